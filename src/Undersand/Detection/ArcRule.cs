using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>A line whose receivers aren't spread across its track shows one echo on a whole arc across it: same place along, same path time. Peaks on it are one thing.</summary>
internal static class ArcRule
{
    /// <summary>Whether a peak lives off one such line, and a body already explains that line's echo.</summary>
    public static bool IsSameEcho(Peak peak, IReadOnlyList<LineSupport> lines, Body body, EvidenceField field, IImageModel model)
    {
        double total = lines.Sum(l => l.Ratio);
        var line = lines.MaxBy(l => l.Ratio)!;
        if (line.KnowsAcross || line.View is not { } view || line.Ratio < 0.7 * total)
            return false;
        var other = body.Lines.FirstOrDefault(l => l.Line == line.Line);
        if (other is not { Supports: true, View: { } otherView } || line.Ratio > 4 * other.Ratio)
            return false;
        var grid = field.Grid;
        double de = (peak.X - body.Seed.X) * grid.Spacing, dn = (peak.Y - body.Seed.Y) * grid.Spacing, azimuth = view.TrackAzimuth.Radians;
        double along = de * Math.Sin(azimuth) + dn * Math.Cos(azimuth);
        if (Math.Abs(along) > Math.Max(0.3, 2 * line.Blur.Along))
            return false;
        double here = SlantDepth(view, grid.BurialAt(peak.Z)), there = SlantDepth(otherView, grid.BurialAt(body.Seed.Z));
        double rangeTolerance = 1.5 * line.Blur.Burial + 0.05;
        return Math.Abs(here - there) < rangeTolerance || IsLaterEcho(here - there);
    }

    /// <summary>
    /// Whether a peak is no more than sidelobes of a body across the track: in every line that supports it the body is at least 6 dB stronger at the
    /// same place along the track and the same path time. A sparse or uneven array repeats a strong echo so, on its arc, once a line; a thing of its own has
    /// another path time in some line.
    /// </summary>
    public static bool IsSidelobeOf(Peak peak, IReadOnlyList<LineSupport> lines, Body body, EvidenceField field)
    {
        const double stronger = 4;
        var grid = field.Grid;
        double de = (peak.X - body.Seed.X) * grid.Spacing, dn = (peak.Y - body.Seed.Y) * grid.Spacing;
        foreach (var line in lines)
        {
            if (!line.Supports)
                continue;
            var own = body.Lines.FirstOrDefault(l => l.Line == line.Line);
            if (line.View is not { } view || own is not { View: { } ownView } || own.Ratio * own.Background < stronger * line.Ratio * line.Background)
                return false;
            double azimuth = view.TrackAzimuth.Radians, along = de * Math.Sin(azimuth) + dn * Math.Cos(azimuth);
            double later = SlantDepth(view, grid.BurialAt(peak.Z)) - SlantDepth(ownView, grid.BurialAt(body.Seed.Z));
            if (Math.Abs(along) > Math.Max(0.3, 2 * line.Blur.Along) || !(Math.Abs(later) < line.Blur.Burial + 0.03 || IsLaterEcho(later)))
                return false;
        }
        return true;
    }

    // The ringing of a body follows its arc at up to half a metre more of path.
    private static bool IsLaterEcho(double later) => later is > 0 and < 0.5;

    /// <summary>One-way path in the plane across the track, as if all were sediment: refraction by a tenth changes differences along an arc little.</summary>
    public static double SlantDepth(Viewpoint view, double burial)
    {
        const double ratio = 1.1;
        double low = 0, high = Math.Abs(view.AcrossOffset), h = Math.Max(view.Height, 0.05), y = high;
        for (int i = 0; i < 40; i++)
        {
            double s = 0.5 * (low + high);
            double slope = ratio * s / Math.Sqrt(h * h + s * s) - (y - s) / Math.Sqrt(burial * burial + (y - s) * (y - s) + 1e-12);
            if (slope < 0)
                low = s;
            else
                high = s;
        }
        return ratio * Math.Sqrt(h * h + low * low) + Math.Sqrt(burial * burial + (y - low) * (y - low));
    }
}
