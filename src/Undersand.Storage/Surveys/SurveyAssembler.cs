using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Settles what needs both survey.json and the recordings: waveform and water.</summary>
internal sealed class SurveyAssembler(string folder, SurveyJson json, SurveyFormulas formulas, List<Caution> cautions, List<Assumption> assumptions)
{
    /// <summary>A header value that differs by more contradicts survey.json: integers round by up to half a unit.</summary>
    private const double Contradiction = 0.02;

    private const double DefaultSoundSpeed = 1500, DefaultTaper = 0.1;

    /// <summary>The waveform, or null where each line has a replica and nothing else is known.</summary>
    public Waveform? SettleWaveform(IReadOnlyList<SegyLine> lines, IReadOnlyList<SegyLayout> layouts)
    {
        int withSweep = layouts.TakeWhile(layout => layout.Sweep is null).Count();
        Waveform? swept = withSweep < layouts.Count ? layouts[withSweep].Sweep : null;
        SurveyJson.WaveformGiven given = json.WaveformFields;
        if (layouts.Any(layout => layout.Sweep is not null && layout.Sweep != swept))
            cautions.Add(new Caution("bytes 3233–3250", $"The recordings give different sweeps; {(given.Start is null ? "that of " + lines[withSweep].Name : "that of survey.json")} was taken."));
        Compare(given, swept, swept is null ? "" : lines[withSweep].Name);
        double? start = given.Start ?? swept?.StartFrequency, end = given.End ?? swept?.EndFrequency, duration = given.Duration ?? swept?.Duration;
        if (start is null || end is null || duration is null)
        {
            if (lines.FirstOrDefault(line => line.Replica is null) is { } without)
                throw new SurveyException(SurveyJson.FileName, "waveform", $"the transmitted waveform is missing: neither survey.json nor bytes 3233–3238 of the recordings give it, and {without.Name} has no replica trace", "add \"waveform\": { \"kind\": \"linear_chirp\", \"start_hz\": …, \"end_hz\": …, \"duration_s\": … }");
            return null;
        }
        if (start == end)
            throw new SurveyException(SurveyJson.FileName, "waveform", $"the chirp starts and ends at {start} Hz", "write two different frequencies");
        if (given.Start is null && swept is not null)
            CheckType(layouts[withSweep], lines[withSweep].Name);
        double taper = given.Taper ?? (given.Start is null && swept?.TaperFraction > 0 ? swept.TaperFraction : (double?)null)
            ?? Assume("taper of the chirp", DefaultTaper, "of the duration at each end", "not given (zero in bytes 3243–3246 is less than a millisecond, or not said); common practice, no source");
        var waveform = new Waveform(start.Value, end.Value, duration.Value, taper);
        CheckNyquist(waveform, lines, given.Start is null ? lines[withSweep].Name : SurveyJson.FileName);
        return waveform;
    }

    private void Compare(SurveyJson.WaveformGiven given, Waveform? swept, string file)
    {
        if (swept is null)
            return;
        void One(double? fromJson, double fromHeader, string what, string bytes, string unit)
        {
            if (fromJson is null)
                assumptions.Add(new Assumption(what, $"{fromHeader} {unit}", $"not in survey.json; {file}, bytes {bytes}"));
            else if (Math.Abs(fromJson.Value - fromHeader) > Contradiction * Math.Abs(fromHeader) + (unit == "s" ? 0.5e-3 : 0.5))
                cautions.Add(new Caution(file, $"The {what} is {fromHeader} {unit} in bytes {bytes}, but {fromJson} {unit} in survey.json, which was followed."));
        }
        One(given.Start, swept.StartFrequency, "start frequency of the chirp", "3233–3234", "Hz");
        One(given.End, swept.EndFrequency, "end frequency of the chirp", "3235–3236", "Hz");
        One(given.Duration, swept.Duration, "duration of the chirp", "3237–3238", "s");
        if (given.Taper is null && given.Start is null && swept.TaperFraction > 0)
            assumptions.Add(new Assumption("taper of the chirp", $"{swept.TaperFraction:0.###} of the duration at each end", $"not in survey.json; {file}, bytes 3243–3246"));
    }

    private static void CheckType(SegyLayout layout, string file)
    {
        if (layout.SweepType is 2 or 3 or 4)
            throw new SurveyException(file, "bytes 3239–3240", $"the sweep is of type {layout.SweepType}, and only linear chirps (1) have a formula here", "record the transmitted waveform as a replica trace, or give a linear chirp in survey.json");
    }

    private static void CheckNyquist(Waveform waveform, IReadOnlyList<SegyLine> lines, string where)
    {
        foreach (SegyLine line in lines)
            if (waveform.HighFrequency >= 0.5 / line.SampleInterval)
                throw new SurveyException(where, where == SurveyJson.FileName ? "waveform" : "bytes 3233–3236", $"the chirp reaches {waveform.HighFrequency} Hz, beyond half the sampling rate of {line.Name} ({0.5 / line.SampleInterval:0.#} Hz)", "correct the frequencies or the sample interval");
    }

    /// <param name="vehicleDepth">Mean depth of the sources, metres.</param>
    public Water SettleWater(double vehicleDepth)
    {
        SurveyJson.WaterGiven given = json.WaterFields;
        double? temperature = given.Temperature, salinity = given.Salinity;
        double depth = given.Depth ?? vehicleDepth;
        if (given.Cast is { } cast)
            (temperature, salinity) = FromCast(cast, depth);
        double soundSpeed = given.SoundSpeed ?? FromConditions(temperature, ref salinity, depth);
        if (given.SoundSpeed is not null && temperature is { } t && salinity is { } s && Math.Abs(formulas.SoundSpeed(t, s, depth) - soundSpeed) > 5)
            cautions.Add(new Caution(SurveyJson.FileName, $"The sound speed of {soundSpeed} m/s differs from {formulas.SoundSpeed(t, s, depth):0.#} m/s that temperature and salinity give; the former was followed."));
        var standard = new Water(soundSpeed);
        return new Water(
            soundSpeed,
            given.Density ?? Assume("density of the water", standard.Density, "kg/m³", "not given; sea water, common practice"),
            temperature ?? Assume("temperature of the water, for absorption", standard.Temperature, "°C", "not given; default, no source"),
            salinity ?? Assume("salinity of the water, for absorption", standard.Salinity, "", "not given; sea water, common practice"));
    }

    private double FromConditions(double? temperature, ref double? salinity, double depth)
    {
        if (temperature is not { } t)
            return Assume("sound speed in the water", DefaultSoundSpeed, "m/s", "not given; round value for sea water, common practice");
        double s = salinity ??= Assume("salinity of the water", 35.0, "", "not given; sea water, common practice");
        double soundSpeed = formulas.SoundSpeed(t, s, depth);
        assumptions.Add(new Assumption("sound speed in the water", $"{soundSpeed:0.##} m/s", $"from {t:0.###} °C, salinity {s:0.###}, {depth:0.##} m depth"));
        return soundSpeed;
    }

    /// <summary>The cast at the vehicle's depth: all paths lie between there and the seabed, metres below.</summary>
    private (double Temperature, double Salinity) FromCast(string file, double depth)
    {
        if (!File.Exists(Path.Combine(folder, file)))
            throw new SurveyException(SurveyJson.FileName, "water.cast", $"there is no file {file}", "copy the cast into the folder, or give water.sound_speed_m_s");
        var rows = OtherTables.ReadCast(folder, file, cautions);
        if (depth > rows[^1].Depth + 1)
            cautions.Add(new Caution(file, $"The cast ends at {rows[^1].Depth} m, above the vehicle at {depth:0.#} m; its last row was taken."));
        int above = rows.TakeWhile(row => row.Depth <= depth).Count() - 1;
        if (above < 0 || above == rows.Count - 1)
            return (rows[Math.Max(above, 0)].Temperature, rows[Math.Max(above, 0)].Salinity);
        var (a, b) = (rows[above], rows[above + 1]);
        double f = (depth - a.Depth) / (b.Depth - a.Depth);
        return (a.Temperature + f * (b.Temperature - a.Temperature), a.Salinity + f * (b.Salinity - a.Salinity));
    }

    private double Assume(string quantity, double value, string unit, string source)
    {
        assumptions.Add(new Assumption(quantity, unit.Length == 0 ? $"{value}" : $"{value} {unit}", source));
        return value;
    }
}
