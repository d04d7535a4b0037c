using System.Globalization;
using NodaTime.Text;

namespace Undersand.Storage.Surveys;

/// <summary>survey.json: what the recordings can't say themselves. Values that need the recordings are settled by <see cref="SurveyAssembler"/>.</summary>
internal sealed class SurveyJson
{
    public const string FileName = "survey.json";

    public SurveyJson(string folder, SurveyFormulas formulas, List<Caution> cautions, List<Assumption> assumptions)
    {
        JsonFields root = JsonFields.Read(Path.Combine(folder, FileName), FileName, "docs/survey.schema.json", cautions);
        Name = root.Text("name") is { Length: > 0 } name ? name : Assume(assumptions, "name of the survey", new DirectoryInfo(folder).Name, "not given; the folder's name");
        Epsg = ReadEpsg(root, formulas);
        WaterFields = ReadWater(root);
        Sediment = ReadSediment(root, formulas, assumptions);
        WaveformFields = ReadWaveform(root);
        Calibration = ReadCalibration(root, cautions, assumptions);
        Image = ReadImage(root, assumptions);
        Prior = ReadPrior(root, assumptions);
        root.CautionUnknown();
    }

    public string Name { get; }
    public int Epsg { get; }
    public WaterGiven WaterFields { get; }
    public Sediment Sediment { get; }
    public WaveformGiven WaveformFields { get; }
    public Calibration? Calibration { get; }
    public ImageSettings Image { get; }
    public Prior Prior { get; }

    /// <summary>What is said of the water.</summary>
    internal sealed record WaterGiven(double? SoundSpeed, double? Density, double? Temperature, double? Salinity, double? Depth, string? Cast);

    /// <summary>What is said of the waveform.</summary>
    internal sealed record WaveformGiven(double? Start, double? End, double? Duration, double? Taper);

    private static T Assume<T>(List<Assumption> assumptions, string quantity, T value, string source, string unit = "")
    {
        assumptions.Add(new Assumption(quantity, string.Create(CultureInfo.InvariantCulture, $"{value}{(unit.Length > 0 ? " " : "")}{unit}"), source));
        return value;
    }

    private static int ReadEpsg(JsonFields root, SurveyFormulas formulas)
    {
        string crs = root.Text("crs") ?? throw root.Wrong("crs", "the reference system of the coordinates is missing", "add for instance \"crs\": \"EPSG:32631\"");
        string digits = crs.Trim();
        foreach (string prefix in (string[])["EPSG:", "urn:ogc:def:crs:EPSG::"])
            if (digits.StartsWith(prefix, StringComparison.OrdinalIgnoreCase))
                digits = digits[prefix.Length..];
        if (!int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out int epsg))
            throw root.Wrong("crs", $"“{crs}” is no reference system", "write the EPSG code of a projected system, for instance \"EPSG:32631\"");
        return formulas.IsKnownEpsg(epsg) ? epsg : throw root.Wrong("crs", $"EPSG:{epsg} is not a projected reference system that is known here", "write for instance \"EPSG:32631\" (UTM zone 31 north)");
    }

    private static WaterGiven ReadWater(JsonFields root)
    {
        if (root.Object("water") is not { } water)
            return new(null, null, null, null, null, null);
        var given = new WaterGiven(water.Number("sound_speed_m_s", 1300, 1700), water.Number("density_kg_m3", 900, 1300), water.Number("temperature_c", -3, 45), water.Number("salinity", 0, 60), water.Number("depth_m", 0, 12000), water.Text("cast"));
        if (given.Cast is { } cast && (Path.IsPathRooted(cast) || cast.Split('/', '\\').Contains("..")))
            throw water.Wrong("cast", $"“{cast}” lies outside the survey's folder", "copy the cast into the folder and name it from there");
        water.CautionUnknown();
        return given;
    }

    private static Sediment ReadSediment(JsonFields root, SurveyFormulas formulas, List<Assumption> assumptions)
    {
        const string why = "not given; medium sand after Hamilton as tabled by Jensen and others, Computational Ocean Acoustics, table 1.3";
        JsonFields? given = root.Object("sediment");
        Sediment fallback = new(1650, 1950, 0.48, "medium sand");
        Sediment? row = null;
        if (given?.Text("type") is { } type)
            row = formulas.SedimentByName(type) ?? throw given.Wrong("type", $"“{type}” is not in the built-in table of sediments", $"write one of {string.Join(", ", formulas.SedimentNames)}, or numbers");
        double Take(double? number, string quantity, double fromRow, string unit) =>
            number ?? (row is null ? Assume(assumptions, quantity, fromRow, why, unit) : fromRow);
        Sediment start = row ?? fallback;
        double? speed = given?.Number("sound_speed_m_s", 1000, 3000), density = given?.Number("density_kg_m3", 1000, 3500), attenuation = given?.Number("attenuation_db_per_m_per_khz", 0, 10);
        given?.CautionUnknown();
        bool asTabled = speed is null && density is null && attenuation is null;
        return new Sediment(
            Take(speed, "sound speed in the sediment", start.SoundSpeed, "m/s"),
            Take(density, "density of the sediment", start.Density, "kg/m³"),
            Take(attenuation, "attenuation in the sediment", start.AttenuationDbPerMetrePerKhz, "dB/m/kHz"),
            asTabled ? start.Name : "as given");
    }

    private static WaveformGiven ReadWaveform(JsonFields root)
    {
        if (root.Object("waveform") is not { } waveform)
            return new(null, null, null, null);
        if (waveform.Text("kind") is { } kind && kind != "linear_chirp")
            throw waveform.Wrong("kind", $"“{kind}” is no waveform that is known here", "write \"linear_chirp\", or record the transmitted waveform as a replica trace (29–30 = 6) and leave the waveform out");
        var given = new WaveformGiven(waveform.Number("start_hz", 1, 1e6), waveform.Number("end_hz", 1, 1e6), waveform.Number("duration_s", 1e-6, 10), waveform.Number("taper_fraction", 0, 0.5));
        waveform.CautionUnknown();
        return given;
    }

    private static Calibration? ReadCalibration(JsonFields root, List<Caution> cautions, List<Assumption> assumptions)
    {
        if (root.Object("calibration") is not { } given)
            return null;
        double source = given.Need("source_pressure_pa_at_1_m", 1e-9, 1e9), unit = given.Need("pascal_per_unit", 1e-30, 1e30);
        double uncertainty = given.Number("uncertainty_db", 0, 60) ?? Assume(assumptions, "uncertainty of the calibration", 3.0, "not given; our own guess, no source", "dB");
        ParseResult<NodaTime.LocalDate>? date = given.Text("date") is { } text ? LocalDatePattern.Iso.Parse(text) : null;
        if (date is { Success: false })
            throw given.Wrong("date", "this is no date", "write it like 2026-05-04");
        if (date is null)
            cautions.Add(new Caution(FileName, "The calibration has no date, so nobody can tell whether it still holds."));
        given.CautionUnknown();
        return new Calibration(source, unit, date?.Value, uncertainty);
    }

    private static ImageSettings ReadImage(JsonFields root, List<Assumption> assumptions)
    {
        JsonFields? given = root.Object("image");
        var image = new ImageSettings(
            given?.Number("max_burial_m", 0.05, 100) ?? Assume(assumptions, "deepest burial imaged", new ImageSettings().MaxBurial, "not given; default", "m"),
            given?.Number("voxel_m", 0.001, 10) ?? Assume(assumptions, "edge of a voxel", new ImageSettings().Voxel, "not given; default", "m"));
        given?.CautionUnknown();
        return image;
    }

    private static Prior ReadPrior(JsonFields root, List<Assumption> assumptions)
    {
        JsonFields? given = root.Object("prior");
        var prior = new Prior(
            given?.Number("objects_per_hectare", 1e-6, 1e6) ?? Assume(assumptions, "objects expected in a hectare", new Prior().ObjectsPerHectare, "not given; default, no source"),
            given?.Number("smallest_object_m", 0.001, 10) ?? Assume(assumptions, "smallest object that counts", new Prior().SmallestObject, "not given; default", "m"));
        given?.CautionUnknown();
        return prior;
    }
}
