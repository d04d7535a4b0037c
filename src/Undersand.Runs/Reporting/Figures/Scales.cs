namespace Undersand.Runs.Reporting;

/// <summary>Round numbers for ticks and scales.</summary>
internal static class Scales
{
    private static readonly double[] _denominators = [1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5];

    /// <summary>A step of 1, 2 or 5 times a power of ten that cuts a span into at most so many parts.</summary>
    public static double Step(double span, int parts)
    {
        double rough = Math.Max(span, 1e-9) / parts, power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double step = rough / power;
        return power * (step <= 1 ? 1 : step <= 2 ? 2 : step <= 5 ? 5 : 10);
    }

    public static IEnumerable<double> Ticks(double low, double high, double step)
    {
        for (double k = Math.Ceiling(low / step - 1e-9); k * step <= high + 1e-9 * step; k++)
            yield return k * step;
    }

    /// <summary>Decimals that a step's multiples need.</summary>
    public static int Decimals(double step) => Math.Max(0, -(int)Math.Floor(Math.Log10(step) + 1e-9));

    /// <summary>The next round scale denominator (1:n) that is not smaller.</summary>
    public static double Denominator(double least)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(least)));
        foreach (double d in _denominators)
            if (d * power >= least * (1 - 1e-9))
                return d * power;
        return 10 * power;
    }
}
