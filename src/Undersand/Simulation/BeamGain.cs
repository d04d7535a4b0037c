namespace Undersand.Simulation;

/// <summary>The amplitude factor of one transducer over the angle from straight down: half of the decibels of the combined pattern.</summary>
internal sealed class BeamGain
{
    private const int Steps = 512;
    private readonly double[] _gain = new double[Steps + 2];

    private BeamGain(IReadOnlyList<BeamPoint> pattern)
    {
        BeamPoint[] points = [.. pattern.OrderBy(p => p.Angle.Radians)];
        for (int i = 0; i < _gain.Length; i++)
            _gain[i] = Math.Pow(10, Level(points, Math.Acos(Math.Clamp(2.0 * i / Steps - 1, -1, 1))) / 40);
    }

    /// <summary>Of a pattern; null where it is omnidirectional.</summary>
    public static BeamGain? Of(IReadOnlyList<BeamPoint> pattern) => pattern.Count == 0 ? null : new BeamGain(pattern);

    /// <summary>Amplitude factor.</summary>
    /// <param name="cosine">Of the angle from straight down.</param>
    public double At(double cosine)
    {
        double x = (Math.Clamp(cosine, -1, 1) + 1) * (Steps / 2.0);
        int i = (int)x;
        return _gain[i] + (x - i) * (_gain[i + 1] - _gain[i]);
    }

    private static double Level(BeamPoint[] points, double angle)
    {
        if (angle <= points[0].Angle.Radians)
            return points[0].LevelDb;
        for (int i = 1; i < points.Length; i++)
        {
            double from = points[i - 1].Angle.Radians, to = points[i].Angle.Radians;
            if (angle <= to)
                return points[i - 1].LevelDb + (points[i].LevelDb - points[i - 1].LevelDb) * (angle - from) / Math.Max(to - from, 1e-12);
        }
        return points[^1].LevelDb;
    }
}
