using System.Numerics;
using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>Measures a body.</summary>
internal sealed class TargetBuilder(Survey survey, IVolume volume, EvidenceField field, IImageModel model, NullModel nullModel, DetectionSettings settings)
{
    // First arrivals are looked for this far above the strongest evidence.
    private const double RingingReach = 0.5;
    private BodyLibrary? _library;

    public Target Build(Body body)
    {
        var grid = field.Grid;
        var supporting = body.Lines.Where(l => l.Supports).ToList();
        double weight(LineSupport l) => 1 / l.Background;
        var (x, y, gain) = Lateral(body.Seed, supporting);
        int cx = Math.Clamp((int)Math.Round(x), 0, grid.CountX - 1), cy = Math.Clamp((int)Math.Round(y), 0, grid.CountY - 1);
        var columns = supporting.Select(l => Column(l, cx, cy, body.Seed.Z)).ToList();
        double blurLevels = supporting.Min(l => l.Blur.Burial) / grid.Spacing, clear = 6.0 * supporting.Count;
        var (top, first, strongest) = TopFinder.Find(columns, [.. supporting.Select(weight)], body.Seed.Z, grid.CountZ, blurLevels, RingingReach / grid.Spacing, clear);
        // Where something else lies above, the first arrival isn't the body's: the fit looks from there to where the strongest echo begins.
        var fit = Fit(supporting, columns, grid.BurialAt(top), grid.BurialAt(strongest));
        double burial = Math.Max(fit?.Top ?? grid.BurialAt(top), 0), easting = grid.EastingAt(x), northing = grid.NorthingAt(y), depth = model.SeabedDepthAt(easting, northing) + burial;
        var probability = nullModel.ProbabilityOf(body.Seed.Ratio, body.Seed.Lines, body.Seed.Z);
        var extent = Size(body, supporting);
        bool isArc = supporting.All(l => !l.KnowsAcross);
        // The image of one line without spread is an arc: its length is what isn't known across, not the body's size.
        double? arc = isArc ? extent.Length ?? 0 : null;
        if (isArc)
            extent = default;
        var error = PositionError.Of(supporting, settings, grid.Spacing, arc);
        var echo = Echo(supporting, columns, first, gain, easting, northing);
        // |√σ| = a·R/2 of a sphere of radius a: a reflection coefficient needs a size, and a sign that is clear.
        double? reflection = extent.Width is { } diameter && echo.Phase is not null ? echo.Sign * 2 * Math.Pow(10, echo.LevelDb / 20) / (0.5 * diameter) : null;
        double? relative = reflection is { } own && echo.Seabed is { } seabed ? own / seabed : null;
        return new Target
        {
            Id = "",
            Position = new GridPoint(easting, northing, depth),
            HorizontalSd = error.Rms,
            EllipseMajor = error.Major,
            EllipseMinor = error.Minor,
            EllipseAzimuth = error.Azimuth,
            Alternative = Mirror(supporting, easting, northing, burial),
            BurialDepth = new Estimate(burial, BurialSd(burial, fit?.Sd ?? 0, supporting, isArc ? error.Major : 0)),
            Length = extent.Length,
            Width = extent.Width,
            Azimuth = extent.Azimuth,
            Probability = probability,
            LogBayesFactor = nullModel.LogBayesFactor(body.Seed.Ratio, body.Seed.Lines, body.Seed.Z),
            TargetStrengthDb = survey.Calibration is null ? null : echo.LevelDb,
            ReflectionCoefficient = survey.Calibration is not null && reflection is { } r ? Math.Clamp(r, -1, 1) : null,
            ReflectionRelativeToSeabed = relative,
            MaterialProbabilities = MaterialGuess.Probabilities(echo.Phase, relative is { } ratio ? 20 * Math.Log10(Math.Abs(ratio)) : null, 0.7, extent.Width is not null, fit?.Evidence),
            LinesSeen = supporting.Count,
            Looks = CountLooks(supporting, body.Seed),
        };
    }

    // Parabola through the logarithms of the weighted energy, in each direction, over the levels about the seed.
    // Gain: how much more energy there is at the vertex than at the seed.
    private (double X, double Y, double Gain) Lateral(Peak seed, List<LineSupport> lines)
    {
        double[,] log = new double[3, 3];
        for (int dy = -1; dy <= 1; dy++)
            for (int dx = -1; dx <= 1; dx++)
                log[dx + 1, dy + 1] = Math.Log(Weighted(lines, seed.X + dx, seed.Y + dy, seed.Z) + 1e-12);
        double dxBest = Offset(log[0, 1], log[1, 1], log[2, 1]), dyBest = Offset(log[1, 0], log[1, 1], log[1, 2]);
        double gain = 0.25 * dxBest * (log[2, 1] - log[0, 1]) + 0.25 * dyBest * (log[1, 2] - log[1, 0]);
        return (seed.X + dxBest, seed.Y + dyBest, Math.Exp(Math.Clamp(gain, 0, 1)));
    }

    private static double Offset(double before, double at, double after)
    {
        double curvature = before - 2 * at + after;
        return curvature < -1e-9 ? Math.Clamp(0.5 * (before - after) / curvature, -0.6, 0.6) : 0;
    }

    /// <summary>Energy over the backgrounds at the seed, summed over lines.</summary>
    public double Weighted(List<LineSupport> lines, int ix, int iy, int iz)
    {
        double sum = 0;
        foreach (var line in lines)
            if (field.TryLineAt(line.Line, ix, iy, iz, out float re, out float im, out _))
                sum += (re * (double)re + im * (double)im) / line.Background;
        return sum;
    }

    private EchoFit.Result? Fit(List<LineSupport> lines, List<ColumnEcho> columns, double earliest, double latest)
    {
        _library ??= new BodyLibrary(survey, model.PulseOf(lines[0].Line));
        return EchoFit.Fit(_library, [.. columns.Select(c => c.Values)], [.. lines.Select(l => l.Background)], field.Grid.FirstBurial, field.Grid.Spacing, earliest, Math.Max(latest, earliest), survey.Calibration is not null);
    }

    private ColumnEcho Column(LineSupport line, int ix, int iy, int around)
    {
        var values = new Complex[field.Grid.CountZ];
        for (int z = 0; z < values.Length; z++)
            if (field.TryLineAt(line.Line, ix, iy, z, out float re, out float im, out _))
                values[z] = new Complex(re, im);
        // Two ways down and up, slanting a little: the mean cosine of an aperture of some 25° each way.
        double frequency = survey.Waveform?.CentreFrequency ?? 10_000, carrier = 4 * Math.PI * frequency / survey.Sediment.SoundSpeed * 0.95 * field.Grid.Spacing;
        return new ColumnEcho(values, around, carrier);
    }

    private double BurialSd(double burial, double fitSd, List<LineSupport> lines, double acrossSd)
    {
        double ratio = lines.Sum(l => l.Ratio), blur = lines.Min(l => l.Blur.Burial) / 2.355 / Math.Sqrt(2 * Math.Max(ratio, 1));
        double speed = settings.SedimentSpeedRelativeSd * burial, timing = 0.5 * settings.TimingSd * survey.Sediment.SoundSpeed;
        // On an arc, across and burial go together: the slope of the arc at the place, and its bend.
        double onArc = lines[0].View is { } view ? acrossSd * (Math.Abs(view.AcrossOffset) + 0.5 * acrossSd) / Math.Max(view.Height + burial, 0.1) : 0;
        return Math.Sqrt(fitSd * fitSd + onArc * onArc + blur * blur + speed * speed + timing * timing + settings.SeabedSd * settings.SeabedSd);
    }

    private static GridPoint MirrorOf(Viewpoint view, double easting, double northing, double depth)
    {
        double azimuth = view.TrackAzimuth.Radians, back = -2 * view.AcrossOffset;
        // Starboard of a track of azimuth α is (cos α, −sin α) in east and north.
        return new GridPoint(easting + back * Math.Cos(azimuth), northing - back * Math.Sin(azimuth), depth);
    }

    private GridPoint? Mirror(List<LineSupport> lines, double easting, double northing, double burial)
    {
        if (lines.Any(l => l.KnowsAcross) || lines.Count == 0 || lines[0].View is not { } first)
            return null;
        var mirror = MirrorOf(first, easting, northing, 0);
        foreach (var line in lines.Skip(1))
            if (line.View is { } view && MirrorOf(view, easting, northing, 0).HorizontalDistanceTo(mirror) > 0.3)
                return null;
        if (mirror.HorizontalDistanceTo(new GridPoint(easting, northing, 0)) < 0.1)
            return null;
        return mirror with { Depth = model.SeabedDepthAt(mirror.Easting, mirror.Northing) + burial };
    }

    private Extent Size(Body body, List<LineSupport> lines)
    {
        const int fine = 3;
        double peak = Weighted(lines, body.Seed.X, body.Seed.Y, body.Seed.Z), spacing = field.Grid.Spacing;
        var top = new Dictionary<(int X, int Y), double>();
        foreach (var (x, y, z) in body.Voxels)
        {
            double value = Weighted(lines, x, y, z);
            if (!top.TryGetValue((x, y), out double known) || value > known)
                top[(x, y)] = value;
        }
        var cells = new List<(double, double)>();
        foreach (var (x, y) in top.Keys.OrderBy(k => k.Y).ThenBy(k => k.X))
            for (int j = 0; j < fine; j++)
                for (int i = 0; i < fine; i++)
                {
                    double fx = (i + 0.5) / fine - 0.5, fy = (j + 0.5) / fine - 0.5;
                    if (Interpolated(top, x, y, fx, fy) >= 0.25 * peak)
                        cells.Add(((x + fx) * spacing, (y + fy) * spacing));
                }
        return Extent.Of(cells, azimuth => lines.Min(l => BlurAlong(l, azimuth)));
    }

    private static double Interpolated(Dictionary<(int X, int Y), double> top, int x, int y, double fx, double fy)
    {
        int sx = fx < 0 ? -1 : 1, sy = fy < 0 ? -1 : 1;
        double ax = Math.Abs(fx), ay = Math.Abs(fy);
        double at(int i, int j) => Math.Sqrt(top.GetValueOrDefault((i, j)));
        double amplitude = (1 - ay) * ((1 - ax) * at(x, y) + ax * at(x + sx, y)) + ay * ((1 - ax) * at(x, y + sy) + ax * at(x + sx, y + sy));
        return amplitude * amplitude;
    }

    private static double BlurAlong(LineSupport line, double azimuth)
    {
        double angle = azimuth - (line.View?.TrackAzimuth.Radians ?? 0), c = Math.Cos(angle) / line.Blur.Along, s = Math.Sin(angle) / line.Blur.Across;
        return 1 / Math.Sqrt(c * c + s * s);
    }

    private (double LevelDb, double Sign, double? Phase, double? Seabed) Echo(List<LineSupport> lines, List<ColumnEcho> columns, double first, double gain, double easting, double northing)
    {
        // Lines add by power for the level and by direction for the phase: their navigation isn't good to an eighth of a wavelength.
        double power = 0, re = 0, im = 0, seabeds = 0;
        int withSeabed = 0;
        for (int i = 0; i < lines.Count; i++)
        {
            var (a, b) = columns[i].At(first);
            double size = Math.Sqrt(a * a + b * b);
            power += gain * size * size / lines.Count;
            if (size > 0)
            {
                re += a / size;
                im += b / size;
            }
            if (model.SeabedReflectionAt(lines[i].Line, easting, northing) is { } seabed && seabed > 0)
            {
                seabeds += seabed;
                withSeabed++;
            }
        }
        double length = Math.Sqrt(re * re + im * im) / lines.Count, phase = Math.Atan2(im, re), sign = Math.Cos(phase) >= 0 ? 1 : -1;
        double? clearPhase = length > 0.5 ? phase : null;
        return (10 * Math.Log10(power), sign, clearPhase, withSeabed > 0 ? seabeds / withSeabed : null);
    }

    // A look supports where its own energy stands four times over what that part of the traces would show of the line's background.
    private int CountLooks(List<LineSupport> lines, Peak seed)
    {
        var tile = new TileIndex(seed.X / VoxelGrid.TileSize, seed.Y / VoxelGrid.TileSize);
        int count = 0;
        foreach (var look in volume.Looks)
        {
            var line = lines.FirstOrDefault(l => l.Line == look.Line);
            if (line is null || volume.Read(tile, look.Index) is not { } sums)
                continue;
            int place = sums.ColumnStart(seed.X % VoxelGrid.TileSize, seed.Y % VoxelGrid.TileSize) + seed.Z, traces = sums.Traces[place];
            if (traces < 3)
                continue;
            double energy = (sums.Real[place] * (double)sums.Real[place] + sums.Imaginary[place] * (double)sums.Imaginary[place]) / traces / traces;
            int groups = volume.Looks.Count(l => l.Line == look.Line);
            if (energy > 4 * line.Background * groups)
                count++;
        }
        return Math.Max(count, 1);
    }
}
