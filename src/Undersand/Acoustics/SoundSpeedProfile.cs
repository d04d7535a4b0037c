namespace Undersand.Acoustics;

/// <summary>Sound speed over depth from a cast: straight lines between the rows, constant above the first and below the last.</summary>
public sealed class SoundSpeedProfile
{
    private readonly double[] _depth;
    private readonly double[] _speed;

    /// <summary>From a cast, by <see cref="SoundSpeed.OfSeaWater"/>.</summary>
    /// <param name="rows">At least one, in any order, no depth twice.</param>
    /// <exception cref="ArgumentException">No row, or a depth twice.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is not that of sea water.</exception>
    public SoundSpeedProfile(IReadOnlyList<CastRow> rows)
    {
        if (rows.Count == 0)
            throw new ArgumentException("a cast has at least one row", nameof(rows));
        List<CastRow> sorted = [.. rows.OrderBy(r => r.Depth)];
        _depth = [.. sorted.Select(r => r.Depth)];
        _speed = [.. sorted.Select(r => SoundSpeed.OfSeaWater(r.Temperature, r.Salinity, r.Depth))];
        for (int i = 1; i < _depth.Length; i++)
            if (!(_depth[i] > _depth[i - 1]))
                throw new ArgumentException($"the cast has the depth {_depth[i]} m twice", nameof(rows));
    }

    /// <summary>Sound speed at a depth, m/s.</summary>
    /// <param name="depth">Metres.</param>
    public double At(double depth)
    {
        int i = Array.BinarySearch(_depth, depth);
        if (i >= 0)
            return _speed[i];
        i = ~i;
        if (i == 0 || i == _depth.Length)
            return _speed[Math.Clamp(i, 0, _depth.Length - 1)];
        double part = (depth - _depth[i - 1]) / (_depth[i] - _depth[i - 1]);
        return _speed[i - 1] + part * (_speed[i] - _speed[i - 1]);
    }

    /// <summary>The speed that gives the true vertical travel time through a layer: the harmonic mean, thickness / ∫dz/c, m/s.</summary>
    /// <param name="top">Metres.</param>
    /// <param name="bottom">Metres; with <paramref name="top"/> equal, the speed there.</param>
    /// <exception cref="ArgumentOutOfRangeException">The bottom is above the top.</exception>
    public double MeanBetween(double top, double bottom)
    {
        if (!(bottom >= top))
            throw new ArgumentOutOfRangeException(nameof(bottom), bottom, "the bottom of a layer is not above its top");
        if (bottom == top)
            return At(top);
        List<double> depths = [top, .. _depth.Where(d => d > top && d < bottom), bottom];
        double time = 0;
        for (int i = 1; i < depths.Count; i++)
            time += (depths[i] - depths[i - 1]) * MeanSlowness(At(depths[i - 1]), At(depths[i]));
        return (bottom - top) / time;
    }

    /// <summary>Mean of 1/c where c runs in a straight line from a to b: ln(b/a)/(b−a).</summary>
    private static double MeanSlowness(double a, double b)
    {
        double e = (b - a) / (b + a);
        // 2 artanh(e)/(b−a), by its series where the speeds are close and the logarithm would lose digits.
        return Math.Abs(e) < 1e-3 ? 2 / (b + a) * (1 + e * e / 3 + e * e * e * e / 5) : Math.Log(b / a) / (b - a);
    }
}
