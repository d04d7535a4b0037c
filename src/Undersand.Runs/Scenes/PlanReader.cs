using NodaTime.Text;
using NodaTime;
using Undersand.Simulation;
using Undersand.Storage;

namespace Undersand.Runs.Scenes;

/// <summary>The part of a scene file that says how it is surveyed.</summary>
internal static class PlanReader
{
    public static SurveyPlan Plan(JsonFields f, Place origin, Scene scene)
    {
        SurveyPlan plan = new()
        {
            Lines = Lines(f, origin),
            Array = Array(f.NeedObject("array")),
            Waveform = Waveform(f.NeedObject("waveform")),
            SampleInterval = f.Need("sample_interval_s", 1e-6, 1e-3),
            FirstSampleTime = f.Number("first_sample_time_s", 0, 10) ?? 0,
            SampleCount = f.NeedWhole("sample_count", 16, 1_000_000),
            PingInterval = f.Need("ping_interval_s", 1e-3, 1000),
            Height = f.Need("height_m", 0.05, 1000),
            Start = Start(f),
            SourcePressure = f.Number("source_pressure_pa_at_1_m", 1e-6, 1e9) ?? 1800,
            PascalPerUnit = f.Number("pascal_per_unit", 1e-12, 1e12) ?? 0.004,
            StatesCalibration = f.Flag("states_calibration", true),
            StatedWater = SceneReader.Water(f.Object("stated_water")),
            StatedSediment = SceneReader.Sediment(f.Object("stated_sediment")),
            Motion = Motion(f.Object("motion")),
            Paths = Paths(f.Object("paths")),
            Disturbances = Disturbances(f.Object("disturbances")),
            Image = new ImageSettings(f.Number("max_burial_m", 0.05, 100) ?? 3, f.Number("voxel_m", 0.001, 10) ?? 0.05),
            Prior = new Prior(f.Number("objects_per_hectare", 1e-6, 1e6) ?? 40, scene.SmallestBody),
        };
        f.CautionUnknown();
        if (plan.Height >= scene.Seabed.Depth)
            throw f.Wrong("height_m", $"the vehicle would fly {plan.Height} m over a seabed {scene.Seabed.Depth} m deep, above the water", "lower it, or deepen the seabed");
        if (plan.Waveform.HighFrequency >= 0.46 / plan.SampleInterval)
            throw f.Wrong("waveform", $"{plan.Waveform.HighFrequency} Hz is above 0.92 of half the sampling rate", "shorten sample_interval_s");
        return plan;
    }

    private static PlannedLine[] Lines(JsonFields f, Place origin)
    {
        PlannedLine[] lines = [.. f.Objects("lines").Select((l, i) =>
        {
            PlannedLine line = new(l.Text("name") ?? $"line-{i + 1:00}.sgy", origin.East(l), origin.North(l), l.Degrees("heading_deg"), l.Need("length_m", 0, 1e5), l.Need("speed_m_s", 0.01, 20));
            l.CautionUnknown();
            return line.Name.AsSpan().IndexOfAny('/', '\\') < 0 && line.Name.EndsWith(".sgy", StringComparison.OrdinalIgnoreCase)
                ? line
                : throw l.Wrong("name", $"“{line.Name}” is no file name that ends in .sgy", "name the recording like line-01.sgy");
        })];
        return lines.Length > 0 ? lines : throw f.Wrong("lines", "there is no line", "add at least one");
    }

    private static ArrayDescription Array(JsonFields f)
    {
        ArrayDescription array = new(f.LeverArms("sources"), f.LeverArms("receivers"), f.Numbers("channel_gains_db"),
            [.. f.Rows("beam_pattern", 2).Select(row => new BeamPoint(Angle.FromDegrees(row[0]), row[1]))]);
        f.CautionUnknown();
        return array;
    }

    private static Waveform Waveform(JsonFields f)
    {
        Waveform waveform = new(f.Need("start_hz", 1, 1e6), f.Need("end_hz", 1, 1e6), f.Need("duration_s", 1e-5, 1), f.Number("taper_fraction", 0, 0.5) ?? 0.1);
        f.CautionUnknown();
        return waveform;
    }

    private static Instant Start(JsonFields f)
    {
        if (f.Text("start_utc") is not { } text)
            return Instant.FromUtc(2026, 5, 4, 9, 30);
        ParseResult<Instant> start = InstantPattern.ExtendedIso.Parse(text);
        return start.Success ? start.Value : throw f.Wrong("start_utc", $"“{text}” is no time", "write it like 2026-05-04T09:30:00Z");
    }

    private static Motion Motion(JsonFields? f)
    {
        if (f is null)
            return new Motion();
        Motion motion = new()
        {
            Height = f.Number("height_sd_m", 0, 10) ?? 0,
            CrossTrack = f.Number("cross_track_sd_m", 0, 100) ?? 0,
            Roll = f.Degrees("roll_sd_deg"),
            Pitch = f.Degrees("pitch_sd_deg"),
            Heading = f.Degrees("heading_sd_deg"),
            Period = f.Number("period_s", 0.1, 1000) ?? 6,
        };
        f.CautionUnknown();
        return motion;
    }

    private static Paths Paths(JsonFields? f)
    {
        if (f is null)
            return new Paths();
        Paths paths = new()
        {
            Direct = f.Number("direct", 0, 10) ?? 1,
            Seabed = f.Flag("seabed", true),
            Vehicle = f.Number("vehicle", -1, 1) ?? 0,
            Surface = f.Number("surface", -1, 1) ?? 0,
        };
        f.CautionUnknown();
        return paths;
    }

    private static Disturbances Disturbances(JsonFields? f)
    {
        if (f is null)
            return new Disturbances();
        JsonFields? sonar = f.Object("other_sonar");
        Disturbances disturbances = new()
        {
            WhiteNoise = f.Number("white_noise_pa", 0, 1e9) ?? 0,
            ColouredNoise = f.Number("coloured_noise_pa", 0, 1e9) ?? 0,
            SilentReceivers = [.. f.Numbers("silent_receivers").Select(n => (int)n)],
            DeadReceivers = [.. f.Numbers("dead_receivers").Select(n => (int)n)],
            DropOuts = f.Number("drop_outs", 0, 1) ?? 0,
            LostPings = f.Number("lost_pings", 0, 1) ?? 0,
            ClipPressure = f.Number("clip_pressure_pa", 1e-9, 1e9),
            OtherSonar = sonar is null ? null : new OtherSonar(sonar.Need("probability", 0, 1), sonar.Need("frequency_hz", 1, 1e6), sonar.Need("duration_s", 1e-6, 1), sonar.Need("pressure_pa", 0, 1e9)),
            Tones = [.. f.Objects("tones").Select(t => new SteadyTone(t.Need("frequency_hz", 1, 1e6), t.Need("pressure_pa", 0, 1e9)))],
        };
        f.CautionUnknown();
        return disturbances;
    }
}
