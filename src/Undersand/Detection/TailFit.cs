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
    // Beforehand, tails beyond what the survey shows are taken as nearly exponential: a judgement, tried on simulated clutter (docs/science/evidence.md).
    private const double MeanXi = 0.02;
    private const double TailPart = 0.05;
    private const int Powers = 13, Stretched = 7, HalfScales = 6;

    // Power laws, then stretched exponentials.
    private const int Shapes = Powers + Stretched;

    private readonly double[] _logDensity = new double[PeakCounts.Bins];
    private readonly double[] _exceedance = new double[PeakCounts.Bins];
    private readonly double[] _counts;
    private readonly double _cells, _u, _rate, _scale, _formulaScale;
    private readonly int _first, _lines;
    private readonly double[,] _logWeight = new double[Shapes, 2 * HalfScales + 1];

    /// <summary>Weighs every tail of the grid by the peaks and takes their mean.</summary>
    /// <param name="counts">Peaks in each bin.</param>
    /// <param name="cells">Resolution cells among which they were found.</param>
    /// <param name="lines">Lines in the mean.</param>
    /// <param name="expectedObjects">Objects that the prior expects among them.</param>
    public TailFit(double[] counts, double cells, int lines, double expectedObjects)
    {
        (_counts, _cells, _lines) = (counts, cells, lines);
        _first = FirstBin(counts, counts.Sum(), lines);
        double above = counts[_first..].Sum();
        _u = Ratio(PeakCounts.FirstDb + _first * PeakCounts.StepDb);
        // Five pseudo-cells' worth of the formula: decides where there are no peaks, vanishes where there are many.
        double formulaRate = CoherenceStatistics.MeanAmplitudeExceedance(_u, lines);
        _rate = (above + 5) / (cells + 5 / formulaRate);
        _formulaScale = formulaRate / (Math.Exp(CoherenceStatistics.LogMeanAmplitudeDensityPerDb(_u, lines)) * 10 / Math.Log(10) / _u);
        _scale = MedianScale(counts, _first, _u, above, _formulaScale);
        double temper = Math.Min(1, GreatestEffectiveCount / Math.Max(above, 1));
        for (int shape = 0; shape < Shapes; shape++)
            for (int s = -HalfScales; s <= HalfScales; s++)
            {
                double away = Math.Log(ScaleOf(s) / _formulaScale), likelihood = above > 0 ? LogLikelihood(TailOf(shape, s), above, expectedObjects) : 0;
                _logWeight[shape, s + HalfScales] = LogPrior(shape) - 0.5 * away * away + temper * likelihood;
            }
        Tabulate(Mean());
    }

    /// <summary>Lowest bin of the tail.</summary>
    public int First => _first;

    /// <summary>Natural logarithm of the density per cell and dB at the middle of a bin.</summary>
    public double LogDensity(int bin) => _logDensity[bin];

    /// <summary>Peaks per cell above the lower edge of a bin.</summary>
    public double Exceedance(int bin) => _exceedance[bin];

    // What is believed of the shapes before any peak: the heavier, the less.
    private static double LogPrior(int shape) => shape < Powers ? -0.05 * shape / MeanXi : -(1 - PowerOf(shape)) / (5 * MeanXi);

    // The mean over all shapes and scales by their weights.
    private double[] Mean()
    {
        double best = _logWeight.Cast<double>().Max(), sum = 0;
        var mean = new double[PeakCounts.Bins];
        for (int shape = 0; shape < Shapes; shape++)
            for (int s = 0; s <= 2 * HalfScales; s++)
            {
                double weight = Math.Exp(_logWeight[shape, s] - best);
                sum += weight;
                if (weight < 1e-9)
                    continue;
                double[] tail = TailOf(shape, s - HalfScales);
                for (int i = _first; i < PeakCounts.Bins; i++)
                    mean[i] += weight * tail[i];
            }
        for (int i = _first; i < PeakCounts.Bins; i++)
            mean[i] /= sum;
        return mean;
    }

    private static double Ratio(double db) => Math.Pow(10, db / 10);

    // The height above which one peak in twenty stands, or 200 of them where that is more; with next to no peaks, where the formula has a tenth.
    private static int FirstBin(double[] counts, double total, int lines)
    {
        double wanted = Math.Clamp(TailPart * total, Math.Min(200, 0.5 * total), 20000);
        int bin = PeakCounts.Bins - 1;
        double above = counts[bin];
        while (bin > 0 && above < wanted)
            above += counts[--bin];
        int formula = 0;
        while (CoherenceStatistics.MeanAmplitudeExceedance(Ratio(PeakCounts.FirstDb + formula * PeakCounts.StepDb), lines) > 0.1)
            formula++;
        return Math.Clamp(bin, formula, formula + 40);
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

    private double ScaleOf(int s) => _scale * Math.Pow(2, s / 6.0);

    private static double PowerOf(int shape) => 0.9 - 0.1 * (shape - Powers);

    private double[] TailOf(int shape, int s)
    {
        double sigma = ScaleOf(s), u = _u;
        if (shape < Powers)
        {
            double xi = 0.05 * shape;
            return Tail(_first, r => xi == 0 ? Math.Exp(-(r - u) / sigma) : Math.Pow(1 + xi * (r - u) / sigma, -1 / xi));
        }
        // exp(−(r/b)^p + (u/b)^p) with the slope at u of scale sigma: b^p = p·u^(p−1)·sigma.
        double power = PowerOf(shape), bp = power * Math.Pow(u, power - 1) * sigma;
        return Tail(_first, r => Math.Exp(-(Math.Pow(r, power) - Math.Pow(u, power)) / bp));
    }

    private static double[] Tail(int first, Func<double, double> exceedance)
    {
        var tail = new double[PeakCounts.Bins];
        for (int i = first; i < PeakCounts.Bins; i++)
            tail[i] = exceedance(Ratio(PeakCounts.FirstDb + i * PeakCounts.StepDb));
        return tail;
    }

    // The share of objects, and of parts and sidelobes of objects, is not fitted but averaged over: from a tenth of the objects that the prior expects to a
    // thousand times, the more the less likely beforehand: a wreck's ground may hold far more than the prior says, and must not pass for clutter's tail.
    // They lie anywhere within the next 25 dB.
    private double LogLikelihood(double[] tail, double above, double expectedObjects)
    {
        const int shares = 9;
        const double range = 25;
        Span<double> logs = stackalloc double[shares];
        double priors = 0;
        for (int w = 0; w < shares; w++)
        {
            double decades = 0.5 * (w - 2), prior = 1 / Math.Pow(1 + Math.Max(decades, 0), 2);
            double share = Math.Min(0.3, expectedObjects * Math.Pow(10, decades) / above), perBin = share * PeakCounts.StepDb / range, sum = Math.Log(prior);
            priors += prior;
            for (int i = _first; i < PeakCounts.Bins; i++)
            {
                if (_counts[i] == 0)
                    continue;
                double next = i + 1 < PeakCounts.Bins ? tail[i + 1] : 0;
                sum += _counts[i] * Math.Log((1 - share) * (tail[i] - next) + perBin + 1e-300);
            }
            logs[w] = sum;
        }
        return LogSum(logs.ToArray()) - Math.Log(priors);
    }

    private static double LogSum(IEnumerable<double> logs)
    {
        double[] all = logs.ToArray();
        double greatest = all.Max();
        return greatest + Math.Log(all.Sum(l => Math.Exp(l - greatest)));
    }

    private void Tabulate(double[] predictive)
    {
        double below = 0;
        for (int i = PeakCounts.Bins - 1; i >= 0; i--)
        {
            double db = PeakCounts.DbOf(i), edge = Ratio(db - 0.5 * PeakCounts.StepDb);
            double formulaDensity = CoherenceStatistics.LogMeanAmplitudeDensityPerDb(Ratio(db), _lines);
            double formulaAbove = CoherenceStatistics.MeanAmplitudeExceedance(edge, _lines);
            if (i >= _first)
            {
                double next = i + 1 < PeakCounts.Bins ? predictive[i + 1] : predictive[i] * 0.9;
                _logDensity[i] = Math.Max(Math.Log(_rate * (predictive[i] - next) / PeakCounts.StepDb + 1e-300), formulaDensity);
                _exceedance[i] = Math.Max(_rate * predictive[i], formulaAbove);
                continue;
            }
            below += _counts[i];
            _logDensity[i] = Math.Max(Math.Log(Math.Max(_counts[i], 0.5) / (_cells + 1) / PeakCounts.StepDb), formulaDensity);
            _exceedance[i] = Math.Max(_rate + below / (_cells + 1), formulaAbove);
        }
    }
}
