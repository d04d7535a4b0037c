using System.Globalization;

namespace Undersand.Runs.Reporting;

/// <summary>Numbers as people should read them: no more digits than the standard deviation carries.</summary>
internal static class Numbers
{
    private const char Minus = '−';

    /// <summary>Decimals at which a standard deviation has one digit, or two where it begins with 1 (common practice, no source).</summary>
    public static int Decimals(double sd, int most)
    {
        if (!(sd > 0) || !double.IsFinite(sd))
            return most;
        int power = (int)Math.Floor(Math.Log10(sd));
        bool one = Math.Round(sd / Math.Pow(10, power), 1) < 2;
        return Math.Clamp(one ? 1 - power : -power, 0, most);
    }

    public static string Fixed(double value, int decimals)
    {
        if (!double.IsFinite(value))
            return "–";
        string text = Math.Abs(value).ToString("F" + decimals, CultureInfo.InvariantCulture);
        return value < 0 && text.AsSpan().ContainsAnyInRange('1', '9') ? Minus + text : text;
    }

    public static string Signed(double value, int decimals)
    {
        string text = Fixed(value, decimals);
        return value > 0 && text.AsSpan().ContainsAnyInRange('1', '9') ? "+" + text : text;
    }

    /// <summary>A value as it was given, without zeros at its end.</summary>
    public static string Given(double value) => !double.IsFinite(value) ? "–" : (value < 0 ? Minus.ToString() : "") + Math.Abs(value).ToString("0.######", CultureInfo.InvariantCulture);

    /// <summary>A value with so many digits that count.</summary>
    public static string Significant(double value, int digits)
    {
        if (value == 0 || !double.IsFinite(value))
            return value == 0 ? "0" : "–";
        int power = (int)Math.Floor(Math.Log10(Math.Abs(value)));
        if (power >= digits)
            return Fixed(Math.Round(value / Math.Pow(10, power - digits + 1)) * Math.Pow(10, power - digits + 1), 0);
        return power < -5 ? Scientific(value) : Fixed(value, digits - 1 - power);
    }

    public static string Scientific(double value)
    {
        int power = (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return $"{Fixed(value / Math.Pow(10, power), 1)}e{(power < 0 ? Minus.ToString() : "")}{Math.Abs(power)}";
    }

    /// <summary>“0.42 ± 0.06”, no finer than a millimetre.</summary>
    public static string WithSd(Estimate estimate)
    {
        int decimals = Decimals(estimate.StandardDeviation, 3);
        return $"{Fixed(estimate.Value, decimals)} ± {Fixed(estimate.StandardDeviation, decimals)}";
    }

    /// <summary>Never 0 or 1: a survey can't be that sure.</summary>
    public static string Probability(double p) =>
        double.IsNaN(p) ? "–" : p > 0.995 ? "> 0.99" : p < 0.005 ? "< 0.01" : Fixed(p, 2);

    public static string Percent(double share) =>
        share is > 0 and < 0.005 ? "< 1 %" : share is < 1 and > 0.995 ? "> 99 %" : Fixed(100 * share, 0) + " %";

    /// <summary>Square metres below a tenth of a hectare, hectares above.</summary>
    /// <param name="squareMetres">The area.</param>
    /// <param name="beside">An area that decides on the unit, where several stand beside each other.</param>
    public static string Area(double squareMetres, double? beside = null) =>
        (beside ?? squareMetres) < 1000 ? Significant(squareMetres, 3) + " m²" : Significant(squareMetres / 1e4, 3) + " ha";

    public static string Count(int n, string one, string many) => n == 1 ? $"1 {one}" : $"{n} {many}";
}
