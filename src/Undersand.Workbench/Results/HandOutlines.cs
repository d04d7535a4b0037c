namespace Undersand.Workbench.Results;

/// <summary>Outlines and places that people draw or type.</summary>
internal static class HandOutlines
{
    /// <summary>Reads “easting, northing” line by line or separated by semicolons; null where something else stands there.</summary>
    public static IReadOnlyList<GridPoint>? Read(string words)
    {
        var places = new List<GridPoint>();
        foreach (string line in words.Split(['\n', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = line.Split([',', ' ', '\t'], StringSplitOptions.RemoveEmptyEntries);
            if (parts.Length != 2 || !Number(parts[0], out double e) || !Number(parts[1], out double n))
                return null;
            places.Add(new GridPoint(e, n, double.NaN));
        }
        return places;
    }

    /// <summary>The same as people write it.</summary>
    public static string Write(IEnumerable<GridPoint> places) => string.Join('\n', places.Select(p => FormattableString.Invariant($"{p.Easting:0.00}, {p.Northing:0.00}")));

    /// <summary>Whether two edges that don't meet at a corner cross.</summary>
    public static bool Crosses(IReadOnlyList<GridPoint> corners)
    {
        int n = corners.Count;
        for (int i = 0; i < n; i++)
            for (int j = i + 2; j < n; j++)
                if ((j + 1) % n != i && Cross(corners[i], corners[(i + 1) % n], corners[j], corners[(j + 1) % n]))
                    return true;
        return false;
    }

    private static bool Cross(GridPoint a, GridPoint b, GridPoint c, GridPoint d) => Side(a, b, c) * Side(a, b, d) < 0 && Side(c, d, a) * Side(c, d, b) < 0;

    private static double Side(GridPoint a, GridPoint b, GridPoint p) => (b.Easting - a.Easting) * (p.Northing - a.Northing) - (b.Northing - a.Northing) * (p.Easting - a.Easting);

    private static bool Number(string text, out double value) => double.TryParse(text, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
}
