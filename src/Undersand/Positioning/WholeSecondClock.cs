namespace Undersand.Positioning;

/// <summary>Guesses the fractions of seconds that a recording cut off, from pings that follow each other evenly.</summary>
/// <remarks>
/// Evenly timed pings are a + b·n at ping number n, and each cut-off second s says s ≤ a + b·n &lt; s + 1. The slack
/// 1 − (max(s − b·n) − min(s − b·n)) is concave in b; it is made greatest, and a put in its middle. Our own method, no source.
/// </remarks>
public static class WholeSecondClock
{
    /// <summary>Seconds with fractions, and how far they may be off.</summary>
    /// <param name="seconds">Cut-off seconds of each ping, not falling.</param>
    /// <param name="numbers">Ping numbers, rising; gaps are pings that are missing.</param>
    /// <param name="times">As long as the seconds; receives the guessed times.</param>
    /// <returns>The greatest error in seconds if the pings were evenly timed; 0.5 where they can't have been.</returns>
    public static double Restore(ReadOnlySpan<long> seconds, ReadOnlySpan<int> numbers, Span<double> times)
    {
        int count = seconds.Length;
        if (numbers.Length != count || times.Length != count)
            throw new ArgumentException("seconds, numbers and times must be of one length", nameof(numbers));
        if (count == 0)
            return 0;
        long start = seconds[0];
        double span = numbers[^1] - (double)numbers[0], rough = span > 0 ? (seconds[^1] - start) / span : 0;
        double low = span > 0 ? Math.Max(0, rough - 1 / span) : 0, high = span > 0 ? rough + 1 / span : 0;
        for (int i = 0; i < 80 && high - low > 1e-12; i++)
        {
            double a = low + (high - low) / 3, b = high - (high - low) / 3;
            if (Range(seconds, numbers, a).Width > Range(seconds, numbers, b).Width) low = a; else high = b;
        }
        double interval = 0.5 * (low + high);
        (double least, double width) = Range(seconds, numbers, interval);
        double slack = 1 - width;
        if (slack < -0.25)
            return SpreadEvenly(seconds, times);
        double offset = least + width + 0.5 * slack;
        for (int i = 0; i < count; i++)
            times[i] = start + offset + interval * (numbers[i] - (double)numbers[0]);
        return slack < 0 ? Math.Max(-0.5 * slack, 0.5 * interval) : GreatestError(seconds, numbers, interval, offset, high: rough + 2 / Math.Max(span, 1));
    }

    /// <summary>
    /// How far any even timing that the seconds allow lies from the one taken. A line's distance from another is greatest at an end; the
    /// allowed lines are farthest up or down there at the least and the greatest interval that leave any slack.
    /// </summary>
    private static double GreatestError(ReadOnlySpan<long> seconds, ReadOnlySpan<int> numbers, double interval, double offset, double high)
    {
        double span = numbers[^1] - (double)numbers[0];
        double least = Edge(seconds, numbers, interval, 0), most = Edge(seconds, numbers, interval, high), error = 0;
        foreach (double edge in (double[])[least, most])
        {
            (double low, double width) = Range(seconds, numbers, edge);
            foreach (double start in (double[])[low + width, low + 1])
                error = Math.Max(error, Math.Max(Math.Abs(start - offset), Math.Abs(start - offset + (edge - interval) * span)));
        }
        return error;
    }

    /// <summary>The interval between the best and a bad one at which the slack ends.</summary>
    private static double Edge(ReadOnlySpan<long> seconds, ReadOnlySpan<int> numbers, double good, double bad)
    {
        for (int i = 0; i < 60 && Math.Abs(good - bad) > 1e-12; i++)
        {
            double middle = 0.5 * (good + bad);
            if (Range(seconds, numbers, middle).Width <= 1) good = middle; else bad = middle;
        }
        return good;
    }

    /// <summary>Least of s − b·n, and how much greater the greatest is.</summary>
    private static (double Least, double Width) Range(ReadOnlySpan<long> seconds, ReadOnlySpan<int> numbers, double interval)
    {
        double least = double.MaxValue, most = double.MinValue;
        for (int i = 0; i < seconds.Length; i++)
        {
            double difference = seconds[i] - seconds[0] - interval * (numbers[i] - (double)numbers[0]);
            least = Math.Min(least, difference);
            most = Math.Max(most, difference);
        }
        return (least, most - least);
    }

    private static double SpreadEvenly(ReadOnlySpan<long> seconds, Span<double> times)
    {
        for (int i = 0; i < seconds.Length;)
        {
            int next = i;
            while (next < seconds.Length && seconds[next] == seconds[i])
                next++;
            for (int k = i; k < next; k++)
                times[k] = seconds[i] + (k - i + 0.5) / (next - i);
            i = next;
        }
        return 0.5;
    }
}
