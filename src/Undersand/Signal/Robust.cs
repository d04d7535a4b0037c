namespace Undersand.Signal;

/// <summary>Estimates that a few wild values do not move.</summary>
public static class Robust
{
    /// <summary>A quantile, by linear interpolation between order statistics; NaN of nothing. The values are reordered.</summary>
    public static double Quantile(Span<double> values, double q)
    {
        if (values.Length == 0)
            return double.NaN;
        values.Sort();
        double place = q * (values.Length - 1);
        int i = (int)place;
        return i + 1 < values.Length ? values[i] + (place - i) * (values[i + 1] - values[i]) : values[i];
    }

    /// <summary>The median; the values are reordered.</summary>
    public static double Median(Span<double> values) => Quantile(values, 0.5);

    /// <summary>The median of a copy.</summary>
    public static double MedianOf(IEnumerable<double> values) => Median(values.ToArray());

    /// <summary>The middle value (the upper of two); the values are reordered.</summary>
    public static float Middle(Span<float> values)
    {
        values.Sort();
        return values[values.Length / 2];
    }

    /// <summary>A standard deviation from the median absolute deviation, for a normal distribution; the values are reordered.</summary>
    public static double StandardDeviation(Span<double> values)
    {
        double median = Median(values);
        for (int i = 0; i < values.Length; i++)
            values[i] = Math.Abs(values[i] - median);
        return 1.4826 * Median(values);
    }
}
