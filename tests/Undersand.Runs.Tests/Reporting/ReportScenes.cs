using NodaTime;

namespace Undersand.Runs.Tests.Reporting;

/// <summary>Results of surveys that never were, to look at reports with. All numbers come from formulae and fixed seeds.</summary>
internal static class ReportScenes
{
    private const double East = 433_180, North = 5_817_940;
    private static readonly Instant _start = Instant.FromUtc(2026, 5, 4, 21, 14);

    /// <summary>Eight lines over some 60 m by 30 m, a dozen targets, a blind strip and a gap.</summary>
    public static SurveyResult Full() => Make("Gull Flats block C", lines: 8, width: 60, height: 30, targets: 12, views: 5);

    public static SurveyResult WithoutTargets() => Make("Empty Sand", lines: 3, width: 30, height: 12, targets: 0, views: 0);

    public static SurveyResult Crowded() => Make("Crowded Bank", lines: 8, width: 60, height: 30, targets: 200, views: 12);

    public static SurveyResult OneLine() => Make("One Pass", lines: 1, width: 40, height: 6, targets: 3, views: 3, mirrored: true);

    /// <summary>A kilometre long and six metres wide, running north-east.</summary>
    public static SurveyResult LongAndThin() => Make("Cable corridor", lines: 2, width: 1000, height: 6, targets: 9, views: 2, spacing: 0.5);

    public static SurveyResult Unkind()
    {
        SurveyResult full = Make("Îlot de la Mouëtte / Łosoś – Νήσος «Γλάρος» 海鸥 <script>alert(1)</script> & " + new string('x', 140), lines: 2, width: 30, height: 12, targets: 4, views: 1);
        Target[] targets = [.. full.Targets.Select((t, i) => t with { Id = i == 0 ? "T-" + new string('9', 60) : t.Id + "<b>", Notes = ["“quoted” & <i>marked</i> " + new string('w', 90)], MaterialProbabilities = i == 1 ? new Dictionary<Material, double>() : t.MaterialProbabilities })];
        LineResult[] lines = [.. full.Lines.Select((l, i) => l with { Name = i == 0 ? new string('n', 120) + ".sgy" : "ligne № 2 – été \u0007.sgy" })];
        return full with { Targets = targets, Lines = lines, Views = [full.Views[0] with { TargetId = targets[0].Id }] };
    }

    /// <summary>Nothing but “no data”.</summary>
    public static SurveyResult Void()
    {
        SurveyResult r = WithoutTargets();
        return r with { Seabed = Nan(r.Seabed), GreatestProbability = Nan(r.GreatestProbability), BurialOfGreatest = Nan(r.BurialOfGreatest), CouldHaveSeen = Nan(r.CouldHaveSeen), NullTails = [], Lines = [], Steps = [], Cautions = [] };
    }

    /// <summary>The full survey with a magnetometer's lines over it, three of its targets magnetic, and four places searched; one line and one place lie beyond the map.</summary>
    public static SurveyResult WithGiven()
    {
        SurveyResult full = Full();
        Target[] iron = [full.Targets[0], full.Targets[3], full.Targets[5]];
        double Anomaly(double e, double n) => iron.Sum(t => Dipole(e - t.Position.Easting, n - t.Position.Northing));
        MagneticPoint Reading(int line, double x, double y) =>
            new(new(_start + Duration.FromSeconds(300 * line + x), new(East + x, North + y, 4), 49_000 + Anomaly(East + x, North + y) + 0.8 * Math.Sin(7 * x + line)), line + 1, 49_000);
        Target first = full.Targets[0], second = full.Targets[1];
        return full with
        {
            Magnetics = [.. Enumerable.Range(0, 6).SelectMany(line => Enumerable.Range(0, 60).Select(i => Reading(line, i, line == 5 ? 90 : 3 + 6 * line)))],
            Outcomes =
            [
                new(first.Position.Easting + 0.3, first.Position.Northing + 0.2, 0.5, 0.8, OutcomeKind.Object, "iron", "shot, left in place"),
                new(second.Position.Easting - 1.2, second.Position.Northing, 2, 0.5, OutcomeKind.Nothing, "", ""),
                new(East + 20, North + 15, 1, 0.6, OutcomeKind.Natural, "stone", "boulder <b>"),
                new(East - 300, North, 3, 1, OutcomeKind.Nothing, "", ""),
            ],
        };
    }

    // North of iron the field is weaker, south of it stronger, as in the north of the Earth.
    private static double Dipole(double e, double n) => 400 * (1 - 0.8 * n) / Math.Pow(1 + (e * e + n * n) / 3, 2.5);

    private static Raster Nan(Raster r) => r with { Values = [.. r.Values.Select(_ => float.NaN)] };

    private static SurveyResult Make(string name, int lines, double width, double height, int targets, int views, bool mirrored = false, double spacing = 0.1)
    {
        double turn = width > 500 ? 0.6 : 0;
        Target[] found = [.. Enumerable.Range(0, targets).Select(i => MakeTarget(i, targets, width, height, turn, mirrored, lines))];
        LineResult[] passed = [.. Enumerable.Range(0, lines).Select(i => Line(i, lines, width, height, turn))];
        Raster Of(Func<double, double, float> value) => Sample(width, height, turn, spacing, value);
        return new SurveyResult
        {
            Survey = Survey(name),
            Lines = passed,
            Grid = new(East, North, 0.05, (int)(width / 0.05), (int)(height / 0.05), 57, 0.15),
            Targets = found,
            Views = [.. found.Take(views).Select(View)],
            Seabed = Of((x, y) => (float)Bed(x, y)),
            GreatestProbability = Of((x, y) => (float)Chance(x, y, found, turn)),
            BurialOfGreatest = Of((x, y) => (float)(0.3 + 0.8 * Math.Abs(Math.Sin(x * 0.7 + y)))),
            CouldHaveSeen = Of((x, y) => x > 0.62 * width && x < 0.68 * width ? 0 : (float)Math.Max(0, 1.9 + 0.4 * Math.Sin(0.3 * x) - 0.02 * (y - height / 2) * (y - height / 2))),
            ReferenceDiameter = 0.2,
            NullTails = [.. new[] { 0.15, 0.5, 1.0, 2.0 }.Zip(new[] { 0.5, 1.0, 2.0, 3.0 }, Tail)],
            CellVolume = 0.0042,
            NewestPing = passed[^1].Pings[^1].Time,
            Cautions = [new("line-03.sgy", "receiver 7 is silent throughout and was left out"), new("line-05.sgy, pings 210 to 244", "the seabed was not found and was bridged from its neighbours", 35)],
            Steps = Steps(),
        };
    }

    private static Survey Survey(string name) => new()
    {
        Name = name,
        Epsg = 32631,
        Water = new(1507),
        Sediment = new(1650, 1950, 0.48),
        Waveform = new(4000, 18000, 0.005, 0.1),
        Assumptions =
        [
            new("Salinity", "35", "default: open sea; it changes the absorption by less than 0.01 dB here"),
            new("Water temperature", "10 °C", "default; used for absorption only"),
            new("Sediment sound speed", "1650 m/s", "survey.json"),
            new("Prior density of objects", "40 a hectare", "default of Undersand, to be replaced by what is known of the place"),
        ],
        Cautions = [new("survey.json", "the field “vessle” is not known and was not used")],
    };

    private static ProcessingStep[] Steps() =>
    [
        new("Read recordings", new Dictionary<string, string> { ["format"] = "SEG-Y revision 1, big-endian, 4-byte IEEE floating point", ["positions"] = "trace headers" }),
        new("Compress", new Dictionary<string, string> { ["replica"] = "linear chirp 4 to 18 kHz, 5 ms", ["whitening"] = "off" }),
        new("Track seabed", new Dictionary<string, string> { ["smoothed over"] = "0.25 m", ["bridged pings"] = "35" }),
        new("Sum", new Dictionary<string, string> { ["voxel"] = "0.05 m", ["aperture"] = "45°", ["engine"] = "vector" }),
        new("Find targets", new Dictionary<string, string> { ["prior"] = "40 a hectare", ["smallest object"] = "0.1 m" }),
    ];

    private static double Bed(double x, double y) => 6.2 + 0.012 * x + 0.15 * Math.Sin(0.35 * x + 0.2 * y) + 0.03 * Math.Sin(6 * x);

    private static LineResult Line(int i, int count, double width, double height, double turn)
    {
        double y = count == 1 ? height / 2 : 1.5 + i * (height - 3) / (count - 1), step = width > 500 ? 0.5 : 0.1;
        int n = (int)((width - 2) / step);
        var pings = new PingResult[n];
        for (int p = 0; p < n; p++)
        {
            double x = i % 2 == 0 ? 1 + p * step : width - 1 - p * step;
            bool lost = i == 4 && p is > 209 and < 245;
            (double e, double nn) = Place(x, y + 0.1 * Math.Sin(0.4 * x + i), turn);
            double depth = 5.1 + 0.08 * Math.Sin(0.5 * x + i) + 0.012 * x;
            pings[p] = new(1000 * (i + 1) + p, _start + Duration.FromSeconds(900 * i + 0.2 * p), new(e, nn, depth), lost ? null : Bed(x, y), !lost || p % 3 == 0, lost ? null : 24 + 3 * Math.Sin(x));
        }
        string name = $"line-{i + 1:00}.sgy";
        return new(name, new LineQuality
        {
            Name = name, Pings = n, PingsUsed = pings.Count(p => p.Used), Receivers = 20, DeadReceivers = i == 2 ? [7] : [], NoiseLevel = 0.00123 * (1 + 0.1 * i), SeabedSnrDb = 25.4 - 0.3 * i,
            MeanHeight = 1.07 + 0.02 * i, MeanSpeed = step * 5, PingSpacing = step, Length = (n - 1) * step, DropOuts = 3 * i, ClippedTraces = i % 2, Bursts = i == 1 ? 41 : 0, TonesRemoved = i == 1 ? [10_000, 12_050] : [], SeabedBridged = pings.Count(p => p.SeabedDepth is null),
        }, pings);
    }

    private static (double E, double N) Place(double x, double y, double turn) =>
        (East + x * Math.Cos(turn) - y * Math.Sin(turn), North + x * Math.Sin(turn) + y * Math.Cos(turn));

    private static Target MakeTarget(int i, int count, double width, double height, double turn, bool mirrored, int lines)
    {
        double x = width * (0.04 + 0.92 * Frac(0.618 * i + 0.11)), y = height * (0.12 + 0.76 * Frac(0.414 * i + 0.2));
        double logOdds = 6.2 - 10.0 * i / Math.Max(count, 8), burial = 0.25 + 1.9 * Frac(0.37 * i + 0.05);
        (double e, double n) = Place(x, y, turn);
        (double ae, double an) = Place(x, height - y, turn);
        double major = mirrored ? 0.62 : 0.07 + 0.03 * (i % 5), minor = 0.04 + 0.01 * (i % 3);
        bool sized = i % 4 != 3;
        double iron = 0.1 + 0.75 * Frac(0.29 * i + 0.6), rest = 1 - iron;
        return new Target
        {
            Id = $"U{31 * (i + 7):X4}",
            Position = new(e, n, Bed(x, y) + burial),
            HorizontalSd = Math.Sqrt((major * major + minor * minor) / 2),
            EllipseMajor = major, EllipseMinor = minor, EllipseAzimuth = Angle.FromDegrees(mirrored ? 2 : 37 * i % 180),
            Alternative = mirrored ? new(ae, an, Bed(x, y) + burial) : null,
            BurialDepth = new(burial, 0.012 + 0.02 * burial),
            Length = sized ? 0.18 + 0.21 * (i % 6) : null, Width = sized ? 0.18 + 0.05 * (i % 3) : null, Thickness = i % 3 == 0 ? 0.16 : null, Azimuth = sized && i % 6 > 0 ? Angle.FromDegrees(53 * i % 180) : null,
            Probability = new(logOdds), LogBayesFactor = logOdds + 12.09,
            ReflectionRelativeToSeabed = i % 5 == 4 ? null : i % 7 == 6 ? -0.7 : 2.1 - 0.1 * (i % 8),
            MaterialProbabilities = new Dictionary<Material, double> { [Material.Iron] = iron, [Material.Stone] = 0.6 * rest, [Material.Ceramic] = 0.2 * rest, [Material.Timber] = 0.1 * rest, [Material.Gas] = 0.02 * rest, [Material.Other] = 0.08 * rest },
            LinesSeen = Math.Min(lines, 1 + i % 3), Looks = 2 * Math.Min(lines, 1 + i % 3),
            Notes = i == 2 ? ["It lies at the burial where the seabed's echo to the vehicle returns."] : [],
        };
    }

    private static double Frac(double x) => x - Math.Floor(x);

    private static double Chance(double x, double y, Target[] targets, double turn)
    {
        double chance = 0.002 + 0.03 * Math.Pow(0.5 + 0.5 * Math.Sin(3.1 * x + 1.7 * Math.Sin(2.3 * y)), 8);
        (double e, double n) = Place(x, y, turn);
        foreach (Target t in targets)
        {
            double d2 = (e - t.Position.Easting) * (e - t.Position.Easting) + (n - t.Position.Northing) * (n - t.Position.Northing);
            chance = Math.Max(chance, t.Probability.Value * Math.Exp(-d2 / 0.06));
        }
        return chance;
    }

    private static Raster Sample(double width, double height, double turn, double spacing, Func<double, double, float> value)
    {
        double spanE = width * Math.Cos(turn) + height * Math.Abs(Math.Sin(turn)), spanN = width * Math.Sin(turn) + height * Math.Cos(turn), shift = height * Math.Sin(turn);
        int nx = (int)(spanE / spacing), ny = (int)(spanN / spacing);
        var values = new float[nx * ny];
        for (int iy = 0; iy < ny; iy++)
            for (int ix = 0; ix < nx; ix++)
            {
                double e = ix * spacing - shift, n = iy * spacing;
                double x = e * Math.Cos(turn) + n * Math.Sin(turn), y = n * Math.Cos(turn) - e * Math.Sin(turn);
                bool gap = x > 0.3 * width && x < 0.36 * width && y > 0.7 * height;
                values[iy * nx + ix] = x < 0.3 || y < 0.3 || x > width - 0.3 || y > height - 0.3 || gap ? float.NaN : value(x, y);
            }
        return new(East - shift, North, spacing, nx, ny, values);
    }

    private static TargetView View(Target t)
    {
        const int n = 61, levels = 57;
        double half = (t.Length ?? 0.2) / 2;
        var random = new Random(17 + (int)(100 * t.BurialDepth.Value));
        float Speckle(double signal) => (float)(20 * Math.Log10(Math.Max(1e-3, signal + 0.035 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())))));
        float Echo(double along, double down)
        {
            double outside = Math.Max(0, Math.Abs(along) - half + 0.05), ring = down > 0.06 ? 0.45 * Math.Exp(-down / 0.16) * (1 + Math.Cos(38 * down)) / 2 : 0;
            return Speckle(Math.Exp(-outside * outside / 0.012) * (Math.Exp(-down * down / 0.0016) + ring));
        }
        float[] Cut()
        {
            var values = new float[n * levels];
            for (int i = 0; i < n; i++)
                for (int k = 0; k < levels; k++)
                    values[i * levels + k] = i < 3 ? float.NaN : Echo((i - 30) * 0.05, 0.15 + 0.05 * k - t.BurialDepth.Value);
            return values;
        }
        var plan = new float[n * n];
        for (int y = 0; y < n; y++)
            for (int x = 0; x < n; x++)
                plan[y * n + x] = x < 3 ? float.NaN : Speckle(Math.Exp(-Math.Pow(Math.Max(0, Math.Sqrt(Math.Pow((x - 30) * 0.05, 2) + Math.Pow((y - 30) * 0.05, 2)) - half + 0.05), 2) / 0.012));
        return new(t.Id, new(t.Position.Easting - 1.5, t.Position.Northing - 1.5, 0.05, n, n, plan),
            new("easting, m", t.Position.Easting - 1.5, 0.05, n, 0.15, 0.05, levels, Cut()), new("northing, m", t.Position.Northing - 1.5, 0.05, n, 0.15, 0.05, levels, Cut()));
    }

    private static NullTail Tail(double from, double to)
    {
        double[] statistic = [.. Enumerable.Range(0, 120).Select(i => -10 + 0.2 * i)], levels = [.. statistic.Select(s => Math.Pow(10, s / 10))];
        double shape = 0.85 - 0.08 * from;
        double[] fitted = [.. levels.Select(e => Math.Exp(-Math.Pow(e, shape)))], formula = [.. levels.Select(e => Math.Exp(-e))];
        double[] measured = [.. fitted.Select((f, i) => f < 2e-7 ? 0 : Math.Max(f * (1 + 0.1 * Math.Sin(i)), statistic[i] < 12.5 ? 6e-6 * Math.Exp(-0.1 * i / 12) : 0))];
        return new(from, to, statistic, measured, fitted, formula);
    }
}
