namespace Undersand.Detection;

/// <summary>The size of a body in the horizontal plane, blur taken out.</summary>
/// <param name="Length">Full length, or null where not resolved.</param>
/// <param name="Width">Full width, or null.</param>
/// <param name="Azimuth">Of the long axis, or null where neither is longer.</param>
internal readonly record struct Extent(double? Length, double? Width, Angle? Azimuth)
{
    private const double Resolved = 1.3;

    /// <summary>From the cells (metres east and north) above half the peak's amplitude.</summary>
    /// <param name="cells">Centres of equal cells.</param>
    /// <param name="blurAt">Full −6 dB width of a point's image in a direction (azimuth in radians).</param>
    public static Extent Of(IReadOnlyList<(double East, double North)> cells, Func<double, double> blurAt)
    {
        if (cells.Count < 3)
            return default;
        double e = cells.Average(c => c.East), n = cells.Average(c => c.North), ee = 0, nn = 0, en = 0;
        foreach (var (east, north) in cells)
        {
            ee += (east - e) * (east - e);
            nn += (north - n) * (north - n);
            en += (east - e) * (north - n);
        }
        ee /= cells.Count;
        nn /= cells.Count;
        en /= cells.Count;
        double azimuth = 0.5 * Math.Atan2(2 * en, nn - ee);
        if (azimuth < 0)
            azimuth += Math.PI;
        double mean = 0.5 * (ee + nn), spread = Math.Sqrt(0.25 * (ee - nn) * (ee - nn) + en * en);
        double? length = WithoutBlur(mean + spread, blurAt(azimuth)), width = WithoutBlur(Math.Max(mean - spread, 0), blurAt(azimuth + Math.PI / 2));
        if (length is null && width is not null)
            return new(width, null, null);
        return new(length, width, length is not null && length > 1.3 * (width ?? 0) ? new Angle(azimuth) : null);
    }

    // An ellipse of full axis d has variance d²/16 along it, a bar of length d has d²/12: short things look like the first, long ones like the second.
    private static double? WithoutBlur(double variance, double blur)
    {
        double full = 4 * Math.Sqrt(variance);
        if (full > 3 * blur)
            full *= Math.Sqrt(12) / 4;
        return full > Resolved * blur ? Math.Sqrt(full * full - blur * blur) : null;
    }
}
