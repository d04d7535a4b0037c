using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;

namespace Undersand.Storage.GeoPackage;

/// <summary>Reads back what <see cref="SurveyGeoPackage"/> wrote, without changing a byte of it.</summary>
public static class SurveyGeoPackageReader
{
    /// <summary>Reads the file.</summary>
    /// <param name="path"><c>survey.gpkg</c>.</param>
    /// <exception cref="SurveyException">It isn't there, or is no such file.</exception>
    public static SurveyContents Read(string path)
    {
        try
        {
            using SqliteConnection file = GeoPackageSql.Connect(path, SqliteOpenMode.ReadOnly);
            var pings = GeoPackageSql.Rows(file, "SELECT * FROM pings ORDER BY fid", Ping).ToLookup(p => p.Line, p => p.Ping);
            return new SurveyContents(
                GeoPackageSql.Rows(file, "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = 'targets'", row => row.GetInt32(0)).Single(),
                GeoPackageSql.Rows(file, "SELECT * FROM lines ORDER BY fid", row => new LineResult(Text(row, "name"), Quality(row), [.. pings[Text(row, "name")]])),
                GeoPackageSql.Rows(file, "SELECT * FROM targets ORDER BY fid", Target),
                GeoPackageSql.Rows(file, "SELECT * FROM coverage ORDER BY fid", Area),
                GeoPackageSql.Rows(file, "SELECT * FROM assumptions ORDER BY fid", row => new Assumption(Text(row, "quantity"), Text(row, "value"), Text(row, "source"))),
                GeoPackageSql.Rows(file, "SELECT * FROM cautions ORDER BY fid", row => new Caution(Text(row, "place"), Text(row, "caution"), (int)Number(row, "count"))),
                Given(file, "magnetics", Magnetic),
                Given(file, "outcomes", Outcome));
        }
        catch (ArgumentOutOfRangeException e)
        {
            throw new SurveyException(path, null, $"another version of Undersand wrote it, without {e.ActualValue ?? "a column that this one needs"}", "process the survey again", e);
        }
        catch (Exception e) when (e is SqliteException or InvalidDataException or InvalidOperationException or FormatException or JsonException or InvalidCastException)
        {
            throw new SurveyException(path, null, $"this is no survey.gpkg of ours, or it is damaged ({e.Message.TrimEnd('.')})", "process the survey again", e);
        }
    }

    /// <summary>Numbers about the whole survey, by their names with units.</summary>
    /// <param name="path"><c>survey.gpkg</c>.</param>
    public static IReadOnlyDictionary<string, double> Facts(string path)
    {
        using SqliteConnection file = GeoPackageSql.Connect(path, SqliteOpenMode.ReadOnly);
        using JsonDocument document = JsonDocument.Parse(GeoPackageSql.Rows(file, "SELECT metadata FROM gpkg_metadata ORDER BY id", row => row.GetString(0)).FirstOrDefault() ?? "{}");
        var facts = new Dictionary<string, double>(StringComparer.Ordinal);
        if (document.RootElement.TryGetProperty("additionalProperty", out JsonElement properties))
            foreach (JsonElement property in properties.EnumerateArray())
                if (property.GetProperty("value") is { ValueKind: JsonValueKind.Number } value)
                    facts[property.GetProperty("name").GetString()!] = value.GetDouble();
        return facts;
    }

    // Layers that are there only where the survey gave them.
    private static List<T> Given<T>(SqliteConnection file, string layer, Func<SqliteDataReader, T> read) =>
        GeoPackageSql.Rows(file, $"SELECT 1 FROM gpkg_contents WHERE table_name = '{layer}'", _ => true).Count > 0 ? GeoPackageSql.Rows(file, $"SELECT * FROM {layer} ORDER BY fid", read) : [];

    private static MagneticPoint Magnetic(SqliteDataReader row)
    {
        (double x, double y) = GeometryReader.Rings(Blob(row, "geom"))[0][0];
        return new(new(GeoPackageSql.Time.Parse(Text(row, "time_utc")).GetValueOrThrow(), new GridPoint(x, y, Number(row, "depth_m")), Number(row, "total_field_nt")), (int)Number(row, "line"), Number(row, "median_nt"));
    }

    private static Outcome Outcome(SqliteDataReader row)
    {
        (double x, double y) = GeometryReader.Rings(Blob(row, "geom"))[0][0];
        return new(x, y, Number(row, "radius_m"), Number(row, "reached_depth_m"), Enum.Parse<OutcomeKind>(Text(row, "outcome"), ignoreCase: true), Text(row, "material"), Text(row, "note"));
    }

    private static (string Line, PingResult Ping) Ping(SqliteDataReader row)
    {
        (double x, double y) = GeometryReader.Rings(Blob(row, "geom"))[0][0];
        var ping = new PingResult((int)Number(row, "ping"), GeoPackageSql.Time.Parse(Text(row, "time_utc")).GetValueOrThrow(), new GridPoint(x, y, Number(row, "source_depth_m")),
            Maybe(row, "seabed_depth_m"), Number(row, "used") != 0, Maybe(row, "snr_db"));
        return (Text(row, "line"), ping);
    }

    private static LineQuality Quality(SqliteDataReader row) => new()
    {
        Name = Text(row, "name"),
        Pings = (int)Number(row, "pings"),
        PingsUsed = (int)Number(row, "pings_used"),
        Receivers = (int)Number(row, "receivers"),
        DeadReceivers = [.. List(row, "dead_receivers").Select(int.Parse)],
        NoiseLevel = Number(row, "noise_level"),
        SeabedSnrDb = Number(row, "seabed_snr_db"),
        MeanHeight = Number(row, "mean_height_m"),
        MeanSpeed = Maybe(row, "mean_speed_m_s"),
        PingSpacing = Number(row, "ping_spacing_m"),
        Length = Number(row, "length_m"),
        DropOuts = (int)Number(row, "drop_outs"),
        ClippedTraces = (int)Number(row, "clipped_traces"),
        Bursts = (int)Number(row, "bursts"),
        TonesRemoved = [.. List(row, "tones_removed_hz").Select(t => double.Parse(t, CultureInfo.InvariantCulture))],
        SeabedBridged = (int)Number(row, "seabed_bridged"),
    };

    private static Target Target(SqliteDataReader row) => new()
    {
        Id = Text(row, "id"),
        Position = new GridPoint(Number(row, "easting_m"), Number(row, "northing_m"), Number(row, "top_depth_m")),
        HorizontalSd = Number(row, "horizontal_sd_m"),
        EllipseMajor = Number(row, "ellipse_major_m"),
        EllipseMinor = Number(row, "ellipse_minor_m"),
        EllipseAzimuth = Angle.FromDegrees(Number(row, "ellipse_azimuth_deg")),
        Alternative = Maybe(row, "alternative_easting_m") is double e && Maybe(row, "alternative_northing_m") is double n ? new GridPoint(e, n, double.NaN) : null,
        BurialDepth = new Estimate(Number(row, "burial_depth_m"), Number(row, "burial_depth_sd_m")),
        Length = Maybe(row, "length_m"),
        Width = Maybe(row, "width_m"),
        Thickness = Maybe(row, "thickness_m"),
        Azimuth = Maybe(row, "azimuth_deg") is double azimuth ? Angle.FromDegrees(azimuth) : null,
        Probability = Probability.FromValue(Math.Clamp(Number(row, "probability"), 0, 1)),
        LogBayesFactor = Number(row, "log10_bayes_factor") * Math.Log(10),
        TargetStrengthDb = Maybe(row, "target_strength_db"),
        ReflectionCoefficient = Maybe(row, "reflection_coefficient"),
        ReflectionRelativeToSeabed = Maybe(row, "reflection_relative_to_seabed"),
        MaterialProbabilities = JsonSerializer.Deserialize<Dictionary<string, double>>(Text(row, "material_probabilities"))!.ToDictionary(m => Enum.Parse<Material>(m.Key, ignoreCase: true), m => m.Value),
        LinesSeen = (int)Number(row, "lines_seen"),
        Looks = (int)Number(row, "looks"),
        Notes = Text(row, "notes").Split("; ", StringSplitOptions.RemoveEmptyEntries),
    };

    private static CoverageArea Area(SqliteDataReader row) =>
        new(GeometryReader.Rings(Blob(row, "geom")), Number(row, "seen_from_m"), Number(row, "seen_to_m"), Number(row, "sphere_diameter_m"), Number(row, "area_m2"));

    private static string Text(SqliteDataReader row, string column) => row[column] as string ?? "";

    private static string[] List(SqliteDataReader row, string column) => Text(row, column).Split(", ", StringSplitOptions.RemoveEmptyEntries);

    private static byte[] Blob(SqliteDataReader row, string column) => row[column] as byte[] ?? throw new InvalidDataException($"a row has no {column}");

    private static double Number(SqliteDataReader row, string column) => Maybe(row, column) ?? double.NaN;

    private static double? Maybe(SqliteDataReader row, string column) => row[column] switch { double d => d, long l => l, _ => null };
}
