namespace Undersand.Detection;

/// <summary>The distribution of the mean of a few Rayleigh amplitudes: what lines show together where there is only Gaussian speckle.</summary>
/// <remarks>
/// The sum of Rayleigh variables has no closed form beyond one (Beaulieu 1990, IEEE Trans. Commun. 38, 1463–1474); here the density a → 2a·exp(−a²) is convolved with
/// itself on a fine grid. One table for each number of lines, made when first asked for.
/// </remarks>
internal sealed class MeanAmplitude
{
    private const int MostLines = 8;
    private const double Step = 0.004, Greatest = 9;
    private static readonly Lazy<MeanAmplitude>[] s_tables = [.. Enumerable.Range(1, MostLines).Select(lines => new Lazy<MeanAmplitude>(() => new MeanAmplitude(lines)))];
    private readonly int _lines;
    private readonly double[] _density, _exceedance;

    private MeanAmplitude(int lines)
    {
        _lines = lines;
        int count = (int)(Greatest / Step) + 1;
        double[] one = new double[count], sum = one;
        for (int i = 0; i < count; i++)
            one[i] = 2 * i * Step * Math.Exp(-i * Step * i * Step);
        for (int l = 1; l < lines; l++)
            sum = Convolved(sum, one);
        _density = sum;
        _exceedance = new double[sum.Length];
        for (int i = sum.Length - 2; i >= 0; i--)
            _exceedance[i] = _exceedance[i + 1] + 0.5 * Step * (sum[i] + sum[i + 1]);
    }

    /// <summary>The table for a number of lines; eight serve for more.</summary>
    public static MeanAmplitude Of(int lines) => s_tables[Math.Clamp(lines, 1, MostLines) - 1].Value;

    /// <summary>Probability that the mean amplitude exceeds the square root of a ratio of energies.</summary>
    public double Exceedance(double ratio)
    {
        var (i, part) = PlaceOf(ratio);
        return i >= _density.Length - 1 ? 0 : _exceedance[i + 1] + 0.5 * (1 - part) * Step * (DensityAt(i, part) + _density[i + 1]);
    }

    /// <summary>Density of the mean amplitude at the square root of a ratio of energies.</summary>
    public double Density(double ratio)
    {
        var (i, part) = PlaceOf(ratio);
        return i >= _density.Length - 1 ? 0 : _lines * DensityAt(i, part);
    }

    private (int Index, double Part) PlaceOf(double ratio)
    {
        double x = _lines * Math.Sqrt(ratio) / Step;
        return ((int)x, x - (int)x);
    }

    // Geometric between nodes: it falls like exp(−a²).
    private double DensityAt(int i, double part) => _density[i] > 0 && _density[i + 1] > 0
        ? _density[i] * Math.Pow(_density[i + 1] / _density[i], part)
        : _density[i] + part * (_density[i + 1] - _density[i]);

    private static double[] Convolved(double[] a, double[] b)
    {
        var result = new double[a.Length + b.Length - 1];
        for (int i = 0; i < a.Length; i++)
            for (int j = 0; j < b.Length; j++)
                result[i + j] += Step * a[i] * b[j];
        return result;
    }
}
