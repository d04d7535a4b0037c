using System.Globalization;
using System.Text;
using System.Text.Json;
using Undersand.Positioning;
using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Writes the files of a survey folder: what a simulation or a test makes, read back by <see cref="SurveyFolder"/>.</summary>
public static class SurveyFolderWriter
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true, NewLine = "\n", Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes survey.json with every value of a survey.</summary>
    /// <param name="folder">Made if missing.</param>
    /// <param name="survey">The survey.</param>
    public static void WriteSurvey(string folder, Survey survey) => WriteJson(folder, SurveyJson.FileName, json =>
    {
        json.WriteString("name", survey.Name);
        json.WriteString("crs", $"EPSG:{survey.Epsg}");
        Write(json, "water", ("sound_speed_m_s", survey.Water.SoundSpeed), ("density_kg_m3", survey.Water.Density), ("temperature_c", survey.Water.Temperature), ("salinity", survey.Water.Salinity));
        Write(json, "sediment", ("sound_speed_m_s", survey.Sediment.SoundSpeed), ("density_kg_m3", survey.Sediment.Density), ("attenuation_db_per_m_per_khz", survey.Sediment.AttenuationDbPerMetrePerKhz));
        if (survey.Waveform is { } waveform)
            Write(json, "waveform", "kind", "linear_chirp", ("start_hz", waveform.StartFrequency), ("end_hz", waveform.EndFrequency), ("duration_s", waveform.Duration), ("taper_fraction", waveform.TaperFraction));
        if (survey.Calibration is { } calibration)
            Write(json, "calibration", "date", calibration.Date is { } date ? NodaTime.Text.LocalDatePattern.Iso.Format(date) : null, ("source_pressure_pa_at_1_m", calibration.SourcePressureAt1Metre), ("pascal_per_unit", calibration.PascalPerUnit), ("uncertainty_db", calibration.UncertaintyDb));
        Write(json, "image", ("max_burial_m", survey.Image.MaxBurial), ("voxel_m", survey.Image.Voxel));
        Write(json, "prior", ("objects_per_hectare", survey.Prior.ObjectsPerHectare), ("smallest_object_m", survey.Prior.SmallestObject));
    });

    /// <summary>Writes array.json.</summary>
    public static void WriteArray(string folder, ArrayDescription array) => WriteJson(folder, ArrayJson.FileName, json =>
    {
        WriteRows(json, "sources", array.Sources.Select(arm => (double[])[arm.Forward, arm.Starboard, arm.Down]));
        WriteRows(json, "receivers", array.Receivers.Select(arm => (double[])[arm.Forward, arm.Starboard, arm.Down]));
        if (array.BeamPattern.Count > 0)
            WriteRows(json, "beam_pattern", array.BeamPattern.Select(point => (double[])[point.Angle.Degrees, point.LevelDb]));
        if (array.ChannelGainsDb.Count == 0)
            return;
        json.WriteStartArray("channel_gains_db");
        foreach (double gain in array.ChannelGainsDb)
            json.WriteNumberValue(gain);
        json.WriteEndArray();
    });

    /// <summary>Writes navigation.csv, to 0.1 mm and a ten-thousandth of a degree's hundredth.</summary>
    public static void WriteNavigation(string folder, IEnumerable<NavigationFix> fixes) => WriteCsv(folder, NavigationCsv.FileName, "time_utc,easting,northing,depth_m,heading_deg,roll_deg,pitch_deg", fixes.Select(fix =>
    {
        (GridPoint p, Attitude a) = (fix.Pose.Position, fix.Pose.Attitude);
        double heading = (a.Heading.Degrees % 360 + 360) % 360;
        return string.Create(CultureInfo.InvariantCulture, $"{UtcTime.Format(fix.Time)},{p.Easting:F4},{p.Northing:F4},{p.Depth:F4},{heading:F6},{a.Roll.Degrees:F6},{a.Pitch.Degrees:F6}");
    }));

    /// <summary>Writes pings.csv.</summary>
    public static void WritePings(string folder, IEnumerable<ISurveyLine> lines) => WriteCsv(folder, PingsCsv.FileName, "file,ping,time_utc", lines.SelectMany(line =>
        Enumerable.Range(0, line.PingCount).Select(i => line.PingAt(i)).Select(ping => $"{line.Name},{ping.Number},{UtcTime.Format(ping.Time)}")));

    /// <summary>Writes a recording under its own name: revision 1, IEEE floats, big-endian, unless told otherwise.</summary>
    /// <param name="folder">Made if missing.</param>
    /// <param name="line">The line.</param>
    /// <param name="sweep">For the binary header, or null.</param>
    /// <param name="change">Changes the settings, or null.</param>
    public static void WriteRecording(string folder, ISurveyLine line, Waveform? sweep, Func<SegyWriterSettings, SegyWriterSettings>? change = null)
    {
        double microseconds = line.SampleInterval * 1e6;
        bool whole = Math.Abs(microseconds - Math.Round(microseconds)) < 1e-6;
        var settings = new SegyWriterSettings
        {
            SampleCount = line.SampleCount,
            SampleInterval = line.SampleInterval,
            Revision = whole && line.SampleCount <= ushort.MaxValue ? SegyRevision.Rev1 : SegyRevision.Rev21,
            Sweep = sweep,
            IsCorrelated = line.IsCorrelated,
            TracesPerPing = line.PingCount == 0 ? 1 : line.PingAt(0).Receivers.Count,
        };
        WholeFile.Write(Path.Combine(folder, line.Name), stream => SegyWriter.WriteLine(stream, line, change?.Invoke(settings) ?? settings));
    }

    private static void WriteJson(string folder, string file, Action<Utf8JsonWriter> fill) => WholeFile.Write(Path.Combine(folder, file), stream =>
    {
        using (var json = new Utf8JsonWriter(stream, Indented))
        {
            json.WriteStartObject();
            fill(json);
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
    });

    private static void Write(Utf8JsonWriter json, string name, params (string Name, double Value)[] numbers) => Write(json, name, "", null, numbers);

    private static void Write(Utf8JsonWriter json, string name, string textName, string? text, params (string Name, double Value)[] numbers)
    {
        json.WriteStartObject(name);
        if (text is not null)
            json.WriteString(textName, text);
        foreach ((string field, double value) in numbers)
            json.WriteNumber(field, value);
        json.WriteEndObject();
    }

    private static void WriteRows(Utf8JsonWriter json, string name, IEnumerable<double[]> rows)
    {
        json.WriteStartArray(name);
        foreach (double[] row in rows)
        {
            json.WriteStartArray();
            foreach (double value in row)
                json.WriteNumberValue(value);
            json.WriteEndArray();
        }
        json.WriteEndArray();
    }

    private static void WriteCsv(string folder, string file, string header, IEnumerable<string> rows) => WholeFile.Write(Path.Combine(folder, file), stream =>
    {
        using var writer = new StreamWriter(stream, new UTF8Encoding(false), 1 << 16, leaveOpen: true) { NewLine = "\n" };
        writer.WriteLine(header);
        foreach (string row in rows)
            writer.WriteLine(row);
    });
}
