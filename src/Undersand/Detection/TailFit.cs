namespace Undersand.Detection;

/// <summary>The distribution of the heights of peaks where there is no object, learnt from peaks among which a few objects are.</summary>
/// <remarks>
/// Above a height u the null follows a generalized Pareto (power-law) or a stretched exponential tail; objects have heights uniform in dB. All parameters lie on a
/// grid, each combination is weighted by its prior and its likelihood, and the tail used is the weighted mean (the predictive distribution), which is
/// heavier than the best fit by just as much as the data leave open. With few peaks it is the prior: the formula's tail, widened.
/// Never lighter than the formula. Derivation in docs/science/evidence.md.
/// </remarks>
internal sealed class TailFit
{
    // Peaks near each other and a family that is never quite right carry less than their number.
    private const double GreatestEffectiveCount = 1500;
    private const double MeanXi = 0.05;
    private readonly double[] _logDensity = new double[PeakCounts.Bins];
    private readonly double[] _exceedance = new double[PeakCounts.Bins];

    /// <param name="counts">Peaks in each bin.</param>
    /// <param name="cells">Resolution cells among which they were found.</param>
    /// <param name="lines">Lines in the mean.</param>
    /// <param name="expectedObjects">Objects that the prior expects among them.</param>
    public TailFit(double[] counts, double cells, int lines, double expectedObjects)
    {
        double total = counts.Sum();
        int first = FirstBin(counts, total, lines);
        double above = counts[first..].Sum(), u = Ratio(PeakCounts.FirstDb + first * PeakCounts.StepDb);
        // Five pseudo-cells' worth of the formula: decides where there are no peaks, vanishes where there are many.
        double formulaRate = CoherenceStatistics.MeanEnergyExceedance(u, lines);
        double rate = (above + 5) / (cells + 5 / formulaRate);
        var predictive = Predictive(counts, first, u, lines, above, expectedObjects);
        Tabulate(counts, cells, first, rate, predictive, lines);
    }

    /// <summary>Natural logarithm of the density per cell and dB at the middle of a bin.</summary>
    public double LogDensity(int bin) => _logDensity[bin];

    /// <summary>Peaks per cell above the lower edge of a bin.</summary>
    public double Exceedance(int bin) => _exceedance[bin];

    private static double Ratio(double db) => Math.Pow(10, db / 10);

    // The height above which a tenth of the peaks stand, or 200 of them where that is more; with next to no peaks, where the formula has a tenth.
    private static int FirstBin(double[] counts, double total, int lines)
    {
        double wanted = Math.Clamp(0.1 * total, Math.Min(200, 0.5 * total), 20000);
        int bin = PeakCounts.Bins - 1;
        double above = counts[bin];
        while (bin > 0 && above < wanted)
            above += counts[--bin];
        int formula = 0;
        while (CoherenceStatistics.MeanEnergyExceedance(Ratio(PeakCounts.FirstDb + formula * PeakCounts.StepDb), lines) > 0.1)
            formula++;
        return Math.Clamp(bin, formula, formula + 40);
    }

    // Weighted mean over the grid of the probability that a peak above u stands above the lower edge of each bin.
    private static double[] Predictive(double[] counts, int first, double u, int lines, double above, double expectedObjects)
    {
        double formulaScale = CoherenceStatistics.MeanEnergyExceedance(u, lines) / (Math.Exp(CoherenceStatistics.LogMeanEnergyDensityPerDb(u, lines)) * 10 / Math.Log(10) / u);
        double scale = MedianScale(counts, first, u, above, formulaScale);
        double temper = Math.Min(1, GreatestEffectiveCount / Math.Max(above, 1));
        var tails = new List<(double LogWeight, double[] Tail)>();
        foreach (var (tail, logPrior) in Candidates(first, u, scale, formulaScale))
            tails.Add((logPrior + temper * LogLikelihood(counts, first, tail, above, expectedObjects), tail));
        double best = tails.Max(t => t.LogWeight), sum = 0;
        var mean = new double[PeakCounts.Bins];
        foreach (var (logWeight, tail) in tails)
        {
            double weight = Math.Exp(logWeight - best);
            sum += weight;
            for (int i = first; i < PeakCounts.Bins; i++)
                mean[i] += weight * tail[i];
        }
        for (int i = first; i < PeakCounts.Bins; i++)
            mean[i] /= sum;
        return mean;
    }

    private static double MedianScale(double[] counts, int first, double u, double above, double formulaScale)
    {
        if (above < 20)
            return formulaScale;
        double half = 0.5 * above, sum = 0;
        int bin = first;
        while (sum + counts[bin] < half)
            sum += counts[bin++];
        double edge = PeakCounts.FirstDb + (bin + (half - sum) / counts[bin]) * PeakCounts.StepDb;
        return Math.Max((Ratio(edge) - u) / Math.Log(2), 0.02 * u);
    }

    private static IEnumerable<(double[] Tail, double LogPrior)> Candidates(int first, double u, double scale, double formulaScale)
    {
        for (int s = -6; s <= 6; s++)
        {
            double sigma = scale * Math.Pow(2, s / 6.0), away = Math.Log(sigma / formulaScale);
            double logScalePrior = -0.5 * away * away;
            for (int k = 0; k <= 12; k++)
            {
                double xi = 0.05 * k;
                yield return (Tail(first, r => xi == 0 ? Math.Exp(-(r - u) / sigma) : Math.Pow(1 + xi * (r - u) / sigma, -1 / xi)), logScalePrior - xi / MeanXi);
            }
            for (int k = 0; k < 7; k++)
            {
                // exp(−(r/b)^p + (u/b)^p) with the slope at u of scale sigma: b^p = p·u^(p−1)·sigma.
                double power = 0.9 - 0.1 * k, bp = power * Math.Pow(u, power - 1) * sigma;
                yield return (Tail(first, r => Math.Exp(-(Math.Pow(r, power) - Math.Pow(u, power)) / bp)), logScalePrior - (1 - power) / (5 * MeanXi));
            }
        }
    }

    private static double[] Tail(int first, Func<double, double> exceedance)
    {
        var tail = new double[PeakCounts.Bins];
        for (int i = first; i < PeakCounts.Bins; i++)
            tail[i] = exceedance(Ratio(PeakCounts.FirstDb + i * PeakCounts.StepDb));
        return tail;
    }

    // The share of objects, and of parts and sidelobes of objects, is not fitted but averaged over: from a tenth of the objects that the prior expects to a
    // thousand times, the more the less likely beforehand. They lie anywhere within the next 25 dB.
    private static double LogLikelihood(double[] counts, int first, double[] tail, double above, double expectedObjects)
    {
        const double range = 25;
        double greatest = double.NegativeInfinity, weights = 0;
        Span<double> logs = stackalloc double[9];
        for (int w = 0; w < logs.Length; w++)
        {
            double decades = 0.5 * (w - 2), prior = 1 / Math.Pow(1 + Math.Max(decades, 0), 2);
            double share = Math.Min(0.3, expectedObjects * Math.Pow(10, decades) / Math.Max(above, 1)), perBin = share * PeakCounts.StepDb / range, sum = Math.Log(prior);
            weights += prior;
            for (int i = first; i < PeakCounts.Bins; i++)
            {
                if (counts[i] == 0)
                    continue;
                double next = i + 1 < PeakCounts.Bins ? tail[i + 1] : 0;
                sum += counts[i] * Math.Log((1 - share) * (tail[i] - next) + perBin + 1e-300);
            }
            logs[w] = sum;
            greatest = Math.Max(greatest, sum);
        }
        double total = 0;
        foreach (double log in logs)
            total += Math.Exp(log - greatest);
        return greatest + Math.Log(total / weights);
    }

    private void Tabulate(double[] counts, double cells, int first, double rate, double[] predictive, int lines)
    {
        double below = 0;
        for (int i = PeakCounts.Bins - 1; i >= 0; i--)
        {
            double db = PeakCounts.DbOf(i), edge = Ratio(db - 0.5 * PeakCounts.StepDb);
            double formulaDensity = CoherenceStatistics.LogMeanEnergyDensityPerDb(Ratio(db), lines);
            double formulaAbove = CoherenceStatistics.MeanEnergyExceedance(edge, lines);
            if (i >= first)
            {
                double next = i + 1 < PeakCounts.Bins ? predictive[i + 1] : predictive[i] * 0.9;
                _logDensity[i] = Math.Max(Math.Log(rate * (predictive[i] - next) / PeakCounts.StepDb + 1e-300), formulaDensity);
                _exceedance[i] = Math.Max(rate * predictive[i], formulaAbove);
                continue;
            }
            below += counts[i];
            _logDensity[i] = Math.Max(Math.Log(Math.Max(counts[i], 0.5) / (cells + 1) / PeakCounts.StepDb), formulaDensity);
            _exceedance[i] = Math.Max(rate + below / (cells + 1), formulaAbove);
        }
    }
}
