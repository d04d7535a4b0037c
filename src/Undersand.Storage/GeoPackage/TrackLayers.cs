using System.Globalization;

namespace Undersand.Storage.GeoPackage;

/// <summary>The layers along the tracks: a line a recording with its quality, a point a ping.</summary>
internal static class TrackLayers
{
    private static readonly TableDefinition Lines = new("lines", "Survey lines: track of the source, and how good the recording is.",
    [
        Column.Text("name", "file name of the recording"),
        Column.Integer("pings", "pings in the recording"),
        Column.Integer("pings_used", "pings used for imaging"),
        Column.Integer("receivers", "receivers of a ping"),
        Column.Text("dead_receivers", "numbers of the receivers left out as dead"),
        Column.Real("noise_level", "standard deviation of the noise in a compressed trace, in the recording's units"),
        Column.Real("seabed_snr_db", "seabed echo over noise, dB, median over pings"),
        Column.Real("mean_height_m", "mean height of the source above the seabed, m"),
        Column.Real("mean_speed_m_s", "mean speed over ground, m/s"),
        Column.Real("ping_spacing_m", "median distance between pings, m"),
        Column.Real("length_m", "length along the track, m"),
        Column.Integer("drop_outs", "traces left out as silent"),
        Column.Integer("clipped_traces", "traces with clipped samples"),
        Column.Integer("bursts", "pings with a burst of another sound, left out unless most of the line is so"),
        Column.Text("tones_removed_hz", "tones removed, Hz"),
        Column.Integer("seabed_bridged", "pings whose seabed was bridged from its neighbours"),
    ]);

    private static readonly TableDefinition Pings = new("pings", "Pings: where the source was, and what became of the recording.",
    [
        Column.Text("line", "file name of the recording"),
        Column.Integer("ping", "ping number of the recording"),
        new("time_utc", "DATETIME", "start of the transmission, UTC"),
        Column.Real("source_depth_m", "depth of the source below the water surface, m"),
        Column.Real("seabed_depth_m", "depth of the seabed under it, m"),
        Column.Real("height_m", "height of the source above the seabed, m"),
        new("used", "BOOLEAN", "whether it was imaged"),
        Column.Real("snr_db", "seabed echo over noise, dB"),
    ]);

    public static void AddTo(GeoPackageFile file, SurveyResult result)
    {
        file.AddFeatures(Lines, "LINESTRING", result.Lines, line => Track(file.SrsId, line), LineValues);
        file.AddFeatures(
            Pings, "POINT", result.Lines.SelectMany(line => line.Pings.Select(ping => (line.Name, Ping: ping))),
            p => GeometryBlob.Point(file.SrsId, p.Ping.Source),
            p => PingValues(p.Name, p.Ping));
    }

    // A line of one ping has no track.
    private static GeometryBlob? Track(int srsId, LineResult line) =>
        line.Pings.Count < 2 ? null : GeometryBlob.LineString(srsId, [.. line.Pings.Select(p => (Math.Round(p.Source.Easting, 3), Math.Round(p.Source.Northing, 3)))]);

    private static object?[] LineValues(LineResult line)
    {
        LineQuality q = line.Quality;
        return
        [
            line.Name, q.Pings, q.PingsUsed, q.Receivers, string.Join(", ", q.DeadReceivers), Digits(q.NoiseLevel), Rounded(q.SeabedSnrDb, 2), Rounded(q.MeanHeight, 3),
            Rounded(q.MeanSpeed, 3), Rounded(q.PingSpacing, 4), Rounded(q.Length, 2), q.DropOuts, q.ClippedTraces, q.Bursts,
            string.Join(", ", q.TonesRemoved.Select(t => Math.Round(t, 1).ToString(CultureInfo.InvariantCulture))), q.SeabedBridged,
        ];
    }

    private static object?[] PingValues(string line, PingResult ping) =>
    [
        line, ping.Number, GeoPackageSql.Time.Format(ping.Time), Rounded(ping.Source.Depth, 3), Rounded(ping.SeabedDepth, 3),
        Rounded(ping.SeabedDepth - ping.Source.Depth, 3), ping.Used ? 1 : 0, Rounded(ping.SnrDb, 2),
    ];

    private static double? Rounded(double? value, int decimals) =>
        value is double number && double.IsFinite(number) ? Math.Round(number, decimals) : null;

    // The recording's units may be of any size: six significant digits.
    private static double? Digits(double value) =>
        double.IsFinite(value) ? double.Parse(value.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : null;
}
