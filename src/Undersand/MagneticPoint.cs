namespace Undersand;

/// <summary>A reading of the total field, and by how much it stands out along its line.</summary>
/// <param name="Reading">As recorded.</param>
/// <param name="Line">Which stretch of unbroken readings it belongs to, from 1.</param>
/// <param name="MedianNanotesla">The running median of the field along the line, nT.</param>
public readonly record struct MagneticPoint(MagnetometerReading Reading, int Line, double MedianNanotesla)
{
    /// <summary>The field less the running median, nT.</summary>
    public double ResidualNanotesla => Reading.TotalFieldNanotesla - MedianNanotesla;

    /// <summary>From what size on a residual stands out of a survey's own noise, nT: three standard deviations, taken robustly from the median size (times 1.4826, as for a normal distribution), and at least 1.</summary>
    public static double StandsOutFrom(IReadOnlyList<MagneticPoint> points)
    {
        double[] sizes = [.. points.Select(p => Math.Abs(p.ResidualNanotesla)).Order()];
        return sizes.Length == 0 ? 1 : Math.Max(1, 3 * 1.4826 * sizes[sizes.Length / 2]);
    }
}
