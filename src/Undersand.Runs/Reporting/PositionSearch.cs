using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Undersand.Runs.Reporting;

/// <summary>Finds positions of a survey in a text, however they are written: metres of its reference system or of Web Mercator, with or without thousands' separators; degrees; degrees and minutes; degrees, minutes and seconds.</summary>
/// <remarks>A number counts as a position where one rounds to it. Degrees with fewer than four decimals (some ten metres) are not looked at: they would be met by chance.</remarks>
internal sealed partial class PositionSearch
{
    private const double EarthRadius = 6378137;

    // Of places so near each other one is looked at, metres.
    private const double Near = 2000, Apart = 50;


    private readonly double[] _metres, _degrees;
    private readonly (GridPoint Grid, GeoPoint Geo)[] _places;

    /// <param name="places">The positions to look for.</param>
    /// <param name="toGeo">Gives their longitude and latitude.</param>
    public PositionSearch(IEnumerable<GridPoint> places, Func<GridPoint, GeoPoint> toGeo)
    {
        var metres = new List<double>();
        var degrees = new List<double>();
        GridPoint[] all = [.. places.Where(p => double.IsFinite(p.Easting + p.Northing))];
        _places = [.. all.DistinctBy(p => (Math.Round(p.Easting / Apart), Math.Round(p.Northing / Apart))).Select(p => (p, toGeo(p)))];
        foreach (GridPoint place in all)
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

    /// <summary>The first pair of coordinates in words that a person typed that comes within two kilometres of a position; null where there is none.</summary>
    /// <remarks>Any numbers that follow each other are tried, in either order, whatever letters and signs stand between them: degrees, degrees and minutes, degrees, minutes and seconds, each also packed (ddmm.mmm), and metres.</remarks>
    public string? FindNear(string typed)
    {
        typed = typed.Normalize(NormalizationForm.FormKC);
        foreach (Regex number in (Regex[])[Decimal(), WithPoint(), Number(), Digits()])
        {
            Match[] written = [.. number.Matches(typed).Cast<Match>()];
            double[] values = [.. written.Select(w => double.Parse(Separator().Replace(w.Value, "").Replace(',', '.').TrimEnd('.'), NumberStyles.Float, CultureInfo.InvariantCulture))];
            for (int i = 0; i < values.Length; i++)
                foreach (var (first, used) in Readings(values.AsSpan(i)))
                    // A number may stand between the two: an uncertainty, the name of a datum.
                    foreach (int from in (int[])[i + used, i + used + 1])
                        foreach (var (second, more) in from < values.Length ? Readings(values.AsSpan(from)) : [])
                            if (IsNear(first, second) || IsNear(second, first))
                                return typed[written[i].Index..(written[from + more - 1].Index + written[from + more - 1].Length)];
        }
        return null;
    }

    // What the first numbers may mean, and how many of them that takes.
    private static List<(double Value, int Used)> Readings(ReadOnlySpan<double> numbers)
    {
        var readings = new List<(double, int)>();
        if (numbers.Length == 0)
            return readings;
        double one = numbers[0], degrees = Math.Floor(one / 100), packed = Math.Floor(one / 10_000);
        readings.Add((one, 1));
        if (one is >= 100 and < 18_100 && one % 100 < 60)
            readings.Add((degrees + one % 100 / 60, 1));
        if (one is >= 10_000 and < 1_810_000 && one % 10_000 < 6000 && one % 100 < 60)
            readings.Add((packed + Math.Floor(one % 10_000 / 100) / 60 + one % 100 / 3600, 1));
        if (one <= 180 && numbers.Length > 1 && numbers[1] < 60)
        {
            readings.Add((one + numbers[1] / 60, 2));
            if (numbers.Length > 2 && numbers[2] < 60)
                readings.Add((one + numbers[1] / 60 + numbers[2] / 3600, 3));
        }
        return readings;
    }

    // Signs and letters may be left out, so the halves of the Earth are not told apart.
    private bool IsNear(double x, double y) => _places.Any(p =>
        double.Hypot(x - p.Grid.Easting, y - p.Grid.Northing) < Near + Apart
        || double.Hypot((x - Math.Abs(p.Geo.Longitude)) * Math.Cos(p.Geo.Latitude * Math.PI / 180), y - Math.Abs(p.Geo.Latitude)) * Math.PI / 180 * EarthRadius < Near + Apart);

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

    [GeneratedRegex(@"[0-9]+(?:[.,][0-9]+)?")]
    private static partial Regex Decimal();

    [GeneratedRegex(@"[0-9]+(?:\.[0-9]+)?")]
    private static partial Regex WithPoint();

    [GeneratedRegex("[0-9]+")]
    private static partial Regex Digits();

    [GeneratedRegex(@"['’   ]")]
    private static partial Regex Separator();

    [GeneratedRegex(@"(?<!\d)(?<d>\d{1,3})\s*[°º:d]\s*(?<m>\d{1,2}(?:[.,]\d+)?)\s*['′’:m](?:\s*(?<s>\d{1,2}(?:[.,]\d+)?)\s*(?:""|″|”|''|s)?)?")]
    private static partial Regex Angle();
}
