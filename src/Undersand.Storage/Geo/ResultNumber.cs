using System.Globalization;

namespace Undersand.Storage.Geo;

/// <summary>Numbers as results are written: the same in every culture, no more decimals than are honest.</summary>
internal static class ResultNumber
{
    /// <summary>With a fixed number of decimals; null for what is no number.</summary>
    public static string? Fixed(double? value, int decimals)
    {
        if (value is not double number || !double.IsFinite(number))
            return null;
        string text = number.ToString("F" + decimals, CultureInfo.InvariantCulture);
        return text[0] == '-' && text.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? text[1..] : text;
    }

    /// <summary>A probability: the rarer of p and 1 − p keeps four significant digits, and 0 and 1 are written only where they are meant.</summary>
    public static string Probability(Probability probability) => probability.LogOdds switch
    {
        double.NegativeInfinity => "0",
        double.PositiveInfinity => "1",
        <= 0 => Rare(Math.Exp(probability.LogOdds) / (1 + Math.Exp(probability.LogOdds))),
        double odds => NearOne(Math.Exp(-odds) / (1 + Math.Exp(-odds))),
    };

    /// <summary>A probability unrounded; what isn't 0 or 1 is not written as 0 or 1.</summary>
    public static double Exact(Probability probability) => double.IsFinite(probability.LogOdds) ? Math.Clamp(probability.Value, 1e-300, 1 - 1.2e-16) : probability.Value;

    /// <summary>A probability given as a number from 0 to 1.</summary>
    public static string Probability(double value) => value switch
    {
        <= 0 => "0",
        >= 1 => "1",
        <= 0.5 => Rare(value),
        _ => NearOne(1 - value),
    };

    // Below 1e-300 a reader's double would be 0.
    private static string Rare(double p)
    {
        if (p >= 1e-4)
            return ((decimal)Rounded(p)).ToString(CultureInfo.InvariantCulture);
        return Math.Max(p, 1e-300).ToString("0.###E-0", CultureInfo.InvariantCulture);
    }

    // A double can't tell 1 − 5e-17 from 1: the last one that it can stands for all beyond.
    private static string NearOne(double q) =>
        q < 1.2e-16 ? "0.9999999999999999" : (1 - (decimal)Rounded(q)).ToString("0.####################", CultureInfo.InvariantCulture);

    private static double Rounded(double p) => double.Parse(p.ToString("E3", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
