using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace Undersand.Storage.Surveys;

/// <summary>ISO 8601 times in UTC, with any number of decimals (nanoseconds are kept), ending in Z.</summary>
internal static class UtcTime
{
    private static readonly LocalDateTimePattern Pattern = LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm':'ss");

    public static bool TryParse(string text, out Instant time)
    {
        time = default;
        text = text.Trim();
        if (text.Length < 20 || text[^1] is not ('Z' or 'z'))
            return false;
        string whole = text[..19].Replace(' ', 'T').Replace('t', 'T'), fraction = text[19..^1];
        if (fraction.Length > 0 && (fraction[0] is not ('.' or ',') || fraction.Length == 1 || !fraction.AsSpan(1).ContainsOnlyDigits()))
            return false;
        ParseResult<LocalDateTime> parsed = Pattern.Parse(whole);
        if (!parsed.Success)
            return false;
        long nanoseconds = fraction.Length == 0 ? 0 : long.Parse(fraction[1..].PadRight(9, '0')[..9], CultureInfo.InvariantCulture);
        time = parsed.Value.InUtc().ToInstant().PlusNanoseconds(nanoseconds);
        return true;
    }

    /// <summary>With as many decimals as needed, up to nine.</summary>
    public static string Format(Instant time) => InstantPattern.ExtendedIso.Format(time);

    private static bool ContainsOnlyDigits(this ReadOnlySpan<char> text) => !text.ContainsAnyExceptInRange('0', '9');
}
