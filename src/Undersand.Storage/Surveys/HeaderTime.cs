using NodaTime;
using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Times of trace header bytes 157–166: year, day of the year, hour, minute, second.</summary>
internal static class HeaderTime
{
    /// <summary>Whole seconds since 1970; <see cref="long.MinValue"/> where the header has no possible time.</summary>
    public static long Seconds(SegyTraceHeader header)
    {
        int year = header.Year switch { 0 => 0, > 0 and < 70 => 2000 + header.Year, >= 70 and < 100 => 1900 + header.Year, _ => header.Year };
        if (year is < 1970 or > 2200 || header.Day is < 1 or > 366 || header.Hour is < 0 or > 23 || header.Minute is < 0 or > 59 || header.Second is < 0 or > 60)
            return long.MinValue;
        return Instant.FromUtc(year, 1, 1, 0, 0).ToUnixTimeSeconds() + (header.Day - 1) * 86400L + header.Hour * 3600 + header.Minute * 60 + header.Second;
    }
}
