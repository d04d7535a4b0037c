using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Undersand.Runs.Reporting;

/// <summary>Finds positions of a survey in a text, however they are written: metres of its reference system or of Web Mercator, with or without thousands' separators; degrees; degrees and minutes; degrees, minutes and seconds.</summary>
/// <remarks>A number counts as a position where one rounds to it. Degrees with fewer than four decimals (some ten metres) are not looked at: they would be met by chance.</remarks>
internal sealed partial class PositionSearch
{
    private const double EarthRadius = 6378137;

    private readonly double[] _metres, _degrees;

    /// <param name="places">The positions to look for.</param>
    /// <param name="toGeo">Gives their longitude and latitude.</param>
    public PositionSearch(IEnumerable<GridPoint> places, Func<GridPoint, GeoPoint> toGeo)
    {
        var metres = new List<double>();
        var degrees = new List<double>();
        foreach (GridPoint place in places.Where(p => double.IsFinite(p.Easting + p.Northing)))
        {
            GeoPoint geo = toGeo(place);
            metres.AddRange([place.Easting, place.Northing, EarthRadius * geo.Longitude * Math.PI / 180, EarthRadius * Math.Log(Math.Tan(Math.PI / 4 + geo.Latitude * Math.PI / 360))]);
            degrees.AddRange([geo.Longitude, geo.Latitude]);
        }
        _metres = [.. metres.Select(Math.Abs).Where(m => m >= 10_000).Order()];
        _degrees = [.. degrees.Select(Math.Abs).Order()];
    }

    /// <summary>The first position that stands in a text, as it is written there; null where there is none.</summary>
    public string? Find(string text)
    {
        text = Escape().Replace(text, " ");
        foreach (Match number in Number().Matches(text))
        {
            string plain = Separator().Replace(number.Value, "").Replace(',', '.');
            // Which comma or point is the decimal one is not known where only one stands there.
            foreach (string reading in new[] { plain, Separator().Replace(number.Value, "").Replace(".", "", StringComparison.Ordinal).Replace(",", "", StringComparison.Ordinal), LastIsDecimal(number.Value) })
                if (double.TryParse(reading, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && IsPosition(value, Decimals(reading)))
                    return number.Value;
        }
        foreach (Match angle in Angle().Matches(text))
        {
            double minutes = Part(angle, "m"), seconds = Part(angle, "s");
            double step = angle.Groups["s"].Success ? Math.Pow(10, -Decimals(angle.Groups["s"].Value)) / 3600 : Math.Pow(10, -Decimals(angle.Groups["m"].Value)) / 60;
            if (minutes < 60 && seconds < 60 && Holds(_degrees, Part(angle, "d") + minutes / 60 + seconds / 3600, step))
                return angle.Value;
        }
        return null;
    }

    private bool IsPosition(double value, int decimals) =>
        value >= 10_000 && Holds(_metres, value, Math.Pow(10, -decimals)) || decimals >= 4 && value <= 180 && Holds(_degrees, value, Math.Pow(10, -decimals));

    // Cut off or rounded: within one unit of the last place.
    private static bool Holds(double[] sorted, double value, double unit)
    {
        double low = value - unit * 0.5001, high = value + unit * 1.0001;
        int at = Array.BinarySearch(sorted, low);
        at = at < 0 ? ~at : at;
        return at < sorted.Length && sorted[at] <= high;
    }

    private static int Decimals(string number) => number.AsSpan().IndexOfAny('.', ',') is var point && point < 0 ? 0 : number.Length - point - 1;

    private static string LastIsDecimal(string number)
    {
        int last = number.LastIndexOfAny(['.', ',']);
        var digits = new StringBuilder();
        for (int i = 0; i < number.Length; i++)
            if (char.IsAsciiDigit(number[i]))
                digits.Append(number[i]);
            else if (i == last)
                digits.Append('.');
        return digits.ToString();
    }

    private static double Part(Match angle, string name) => angle.Groups[name].Success ? double.Parse(angle.Groups[name].Value.Replace(',', '.'), CultureInfo.InvariantCulture) : 0;

    [GeneratedRegex(@"&#?\w+;")]
    private static partial Regex Escape();

    [GeneratedRegex(@"(?<![\d.,])(?:\d{1,3}(?:['’.,   ]\d{3})+|\d+)(?:[.,]\d+)?(?![\d])")]
    private static partial Regex Number();

    [GeneratedRegex(@"['’   ]")]
    private static partial Regex Separator();

    [GeneratedRegex(@"(?<!\d)(?<d>\d{1,3})\s*[°º:d]\s*(?<m>\d{1,2}(?:[.,]\d+)?)\s*['′’:m](?:\s*(?<s>\d{1,2}(?:[.,]\d+)?)\s*(?:""|″|”|''|s)?)?")]
    private static partial Regex Angle();
}
