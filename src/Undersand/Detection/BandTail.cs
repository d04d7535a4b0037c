namespace Undersand.Detection;

/// <summary>The null's tail at one burial: its shape from all around, its height from the burial's own peaks.</summary>
internal sealed class BandTail
{
    // That many peaks are as good as seen already: where there are few, the surroundings decide.
    private const double Believed = 20;
    private readonly TailFit _tail;
    private readonly double _factor;

    /// <param name="tail">From all around.</param>
    /// <param name="own">Peaks at this burial.</param>
    /// <param name="cells">Resolution cells at this burial.</param>
    public BandTail(TailFit tail, PooledCounts own, double cells)
    {
        (_tail, Own, Cells) = (tail, own, cells);
        _factor = (own.Counts[tail.First..].Sum() + Believed) / (tail.Exceedance(tail.First) * cells + Believed);
    }

    /// <summary>Peaks at this burial.</summary>
    public PooledCounts Own { get; }

    /// <summary>Resolution cells at this burial.</summary>
    public double Cells { get; }

    /// <summary>Natural logarithm of the density per cell and dB at the middle of a bin.</summary>
    public double LogDensity(int bin) => _tail.LogDensity(bin) + Math.Log(_factor);

    /// <summary>Peaks per cell above the lower edge of a bin.</summary>
    public double Exceedance(int bin) => _tail.Exceedance(bin) * _factor;
}
