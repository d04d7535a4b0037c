namespace Undersand.Detection;

/// <summary>Where an echo begins in its column: the first arrival, which for an elastic body need not be the strongest.</summary>
internal static class TopFinder
{
    private const int Fine = 10;
    // −14 dB of the strongest, in energy; nearer than two blurs it must be −9 dB, for a compressed pulse has sidelobes of its own there.
    private const double Far = 0.04, Near = 0.126;

    /// <param name="columns">The column in each supporting line.</param>
    /// <param name="weights">One over each line's background.</param>
    /// <param name="peak">Level of the strongest evidence.</param>
    /// <param name="levels">Levels.</param>
    /// <param name="blurLevels">Full −6 dB width in burial, in levels.</param>
    /// <param name="reachLevels">How far up to look, in levels.</param>
    /// <param name="clear">Energy that stands clear of the background, in the unit of the weighted sum.</param>
    /// <returns>Fractional levels of the top by the first arrival, of that arrival's maximum, and of where the strongest echo begins.</returns>
    public static (double Top, double First, double Strongest) Find(IReadOnlyList<ColumnEcho> columns, IReadOnlyList<double> weights, int peak, int levels, double blurLevels, double reachLevels, double clear)
    {
        int from = Math.Max((int)(peak - reachLevels), 0) * Fine, to = Math.Min(peak + 2, levels - 1) * Fine;
        var energy = new double[to + 1];
        int start = Math.Max(from - 2 * Fine, 0);
        for (int i = start; i <= to; i++)
            for (int l = 0; l < columns.Count; l++)
                energy[i] += weights[l] * columns[l].EnergyAt(i / (double)Fine);
        int strongest = Math.Max((peak - 1) * Fine, 0);
        for (int i = strongest; i <= to; i++)
            if (energy[i] > energy[strongest])
                strongest = i;
        int first = First(energy, from, strongest, blurLevels * Fine, clear);
        return (Begin(energy, start, first, blurLevels), first / (double)Fine, Begin(energy, start, strongest, blurLevels));
    }

    private static double Begin(double[] energy, int start, int maximum, double blurLevels)
    {
        double edge = maximum, half = 0.25 * energy[maximum], byPeak = maximum / (double)Fine;
        while (edge > start && energy[(int)edge - 1] > half)
            edge--;
        if (edge <= start || maximum - edge > 1.5 * blurLevels * Fine)
            return byPeak;
        double above = energy[(int)edge - 1], below = energy[(int)edge];
        edge -= Math.Log(below / half) / Math.Log(below / Math.Max(above, 1e-30));
        // The edge is cleaner than the maximum where a later echo leans on it, never deeper than the maximum.
        return Math.Min(edge / Fine + 0.5 * blurLevels, byPeak + 0.1 * blurLevels);
    }

    private static int First(double[] energy, int from, int strongest, double blur, double clear)
    {
        for (int i = Math.Max(from, 1); i < strongest; i++)
        {
            if (!(energy[i] >= energy[i - 1] && energy[i] > energy[i + 1]) || energy[i] < clear)
                continue;
            if (energy[i] >= (strongest - i < 2 * blur ? Near : Far) * energy[strongest])
                return i;
        }
        return strongest;
    }
}
