using System.Globalization;

namespace Undersand.Workbench.Pictures;

/// <summary>A way over the ground along which a section is cut.</summary>
internal sealed class SectionPath
{
    private const int MostCorners = 500;
    private const double Longest = 20_000;
    private readonly (double E, double N)[] _corners;
    private readonly double[] _along;

    private SectionPath((double E, double N)[] corners)
    {
        _corners = corners;
        _along = new double[corners.Length];
        for (int i = 1; i < corners.Length; i++)
            _along[i] = _along[i - 1] + Math.Sqrt(Square(corners[i].E - corners[i - 1].E) + Square(corners[i].N - corners[i - 1].N));
    }

    public double Length => _along[^1];

    public IReadOnlyList<(double E, double N)> Corners => _corners;

    /// <summary>A way from words: “e,n,e,n…”; null where the words are no way.</summary>
    public static SectionPath? Parse(string? words)
    {
        string[] parts = words?.Split(',') ?? [];
        if (parts.Length < 4 || parts.Length % 2 == 1 || parts.Length > 2 * MostCorners)
            return null;
        var corners = new (double E, double N)[parts.Length / 2];
        for (int i = 0; i < corners.Length; i++)
        {
            if (!double.TryParse(parts[2 * i], NumberStyles.Float, CultureInfo.InvariantCulture, out double e) || !double.TryParse(parts[2 * i + 1], NumberStyles.Float, CultureInfo.InvariantCulture, out double n) || !double.IsFinite(e + n))
                return null;
            corners[i] = (e, n);
        }
        var path = new SectionPath(corners);
        return path.Length is > 0.01 and < Longest ? path : null;
    }

    /// <summary>A recorded line's track, smoothed to at most half a metre between corners, so that the sway of single pings doesn't kink the section.</summary>
    public static SectionPath? Of(LineResult line)
    {
        const double step = 0.5;
        var corners = new List<(double E, double N)>();
        foreach (PingResult ping in line.Pings)
            if (corners.Count == 0 || Square(ping.Source.Easting - corners[^1].E) + Square(ping.Source.Northing - corners[^1].N) >= step * step)
                corners.Add((ping.Source.Easting, ping.Source.Northing));
        if (line.Pings.Count > 1 && corners[^1] is var last && (last.E, last.N) != (line.Pings[^1].Source.Easting, line.Pings[^1].Source.Northing))
            corners.Add((line.Pings[^1].Source.Easting, line.Pings[^1].Source.Northing));
        return corners.Count < 2 ? null : new SectionPath([.. corners]);
    }

    /// <summary>The place at a distance along the way.</summary>
    public (double E, double N) At(double distance)
    {
        int i = Array.BinarySearch(_along, distance);
        i = Math.Clamp(i < 0 ? ~i - 1 : i, 0, _corners.Length - 2);
        double f = (distance - _along[i]) / Math.Max(_along[i + 1] - _along[i], 1e-9);
        return (_corners[i].E + f * (_corners[i + 1].E - _corners[i].E), _corners[i].N + f * (_corners[i + 1].N - _corners[i].N));
    }

    private static double Square(double x) => x * x;
}
