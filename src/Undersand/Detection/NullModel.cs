namespace Undersand.Detection;

/// <summary>What the evidence is like where there is no object, learnt from the survey and frozen; and what follows from it for a voxel.</summary>
/// <remarks>Odds of an object: the expected density of object peaks of that height, over that of null peaks. Immutable; may be shared by threads.</remarks>
public sealed class NullModel
{
    private readonly double[][] _logOdds;
    private readonly double[][] _logBayes;
    private readonly int _levels;

    internal NullModel(double[][] logOdds, double[][] logBayes, int levels, IReadOnlyList<NullTail> tails, double cellVolume, IReadOnlyList<Peak> candidates)
    {
        (_logOdds, _logBayes, _levels) = (logOdds, logBayes, levels);
        (Tails, CellVolume, Candidates) = (tails, cellVolume, candidates);
    }

    /// <summary>The null's tail by burial, measured, fitted and by formula, in peaks per resolution cell.</summary>
    public IReadOnlyList<NullTail> Tails { get; }

    /// <summary>Volume of a resolution cell at 1 m burial, cubic metres.</summary>
    public double CellVolume { get; }

    /// <summary>The survey's highest peaks, strongest first.</summary>
    internal IReadOnlyList<Peak> Candidates { get; }

    /// <summary>Log odds that a compact body's top lies in the resolution cell.</summary>
    internal Probability ProbabilityOf(double ratio, int lines, int level) => new(Look(_logOdds, ratio, lines, level));

    /// <summary>Natural log of the Bayes factor.</summary>
    internal double LogBayesFactor(double ratio, int lines, int level) => Look(_logBayes, ratio, lines, level);

    /// <summary>The least evidence at which the log odds reach a value.</summary>
    internal double RatioFor(double logOdds, int lines, int level)
    {
        double[] table = _logOdds[PeakCounts.ClassOf(lines) * _levels + level];
        int bin = 0;
        while (bin < table.Length - 1 && table[bin] < logOdds)
            bin++;
        return Math.Pow(10, PeakCounts.DbOf(bin) / 10);
    }

    private double Look(double[][] tables, double ratio, int lines, int level)
    {
        double[] table = tables[PeakCounts.ClassOf(lines) * _levels + level];
        double place = (10 * Math.Log10(Math.Max(ratio, 1e-3)) - PeakCounts.FirstDb) / PeakCounts.StepDb - 0.5;
        if (place <= 0)
            return table[0];
        int bin = Math.Min((int)place, table.Length - 2);
        double fraction = Math.Min(place - bin, 1);
        return (1 - fraction) * table[bin] + fraction * table[bin + 1];
    }
}
