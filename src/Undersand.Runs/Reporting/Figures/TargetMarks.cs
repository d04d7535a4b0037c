namespace Undersand.Runs.Reporting;

/// <summary>Targets on a map: outline at true size, one-sigma ellipse, symbol by probability, number, and the other place the echo could lie.</summary>
internal static class TargetMarks
{
    private const double Radius = 1.15;

    public static void Draw(MapFrame frame, IReadOnlyList<Target> targets, Labels labels)
    {
        frame.Drawing.Clip(frame.Map, () =>
        {
            foreach (Target t in targets)
                Uncertainty(frame, t);
            foreach (Target t in targets.Reverse())
                Body(frame, t);
        });
        foreach (Target t in targets)
            labels.Keep(frame.At(t.Position.Easting, t.Position.Northing), Radius);
        foreach (var (i, t) in targets.Index())
            labels.Put(frame.At(t.Position.Easting, t.Position.Northing), $"{i + 1}", Radius);
    }

    /// <summary>The symbol alone: full from 0.9, with a core from 0.5, else open.</summary>
    public static void Symbol(Drawing drawing, double x, double y, double probability)
    {
        drawing.Disc(x, y, Radius, new(Ink.Target, Tokens.Pen), probability >= 0.9 ? Ink.Target : Ink.Paper);
        if (probability is >= 0.5 and < 0.9)
            drawing.Disc(x, y, 0.45 * Radius, null, Ink.Target);
    }

    /// <summary>The outline of a target at true size, a line where only its length is resolved, or nothing where no size is resolved.</summary>
    public static Spot[]? Outline(Target target, Spot at, double mmPerMetre)
    {
        if ((target.Length ?? target.Width) is not double length)
            return null;
        return Spot.Ellipse(at.X, at.Y, length / 2 * mmPerMetre, target.OutlineWidth / 2 * mmPerMetre, target.Azimuth?.Radians ?? 0);
    }

    private static void Uncertainty(MapFrame frame, Target t)
    {
        Spot at = frame.At(t.Position.Easting, t.Position.Northing);
        double scale = frame.Millimetres(1);
        var pen = new Pen(Ink.Target, Tokens.Thin);
        frame.Drawing.Shape(Spot.Ellipse(at.X, at.Y, t.EllipseMajor * scale, t.EllipseMinor * scale, t.EllipseAzimuth.Radians), pen, null);
        if (t.Alternative is not GridPoint other)
            return;
        Spot there = frame.At(other.Easting, other.Northing);
        Pen dashed = pen with { Dash = 0.8 };
        frame.Drawing.Line(at.X, at.Y, there.X, there.Y, dashed);
        frame.Drawing.Shape(Spot.Ellipse(there.X, there.Y, Math.Max(Radius, t.EllipseMajor * scale), Math.Max(Radius, t.EllipseMinor * scale), t.EllipseAzimuth.Radians), dashed, null);
    }

    private static void Body(MapFrame frame, Target t)
    {
        Spot at = frame.At(t.Position.Easting, t.Position.Northing);
        if (Outline(t, at, frame.Millimetres(1)) is Spot[] outline)
            frame.Drawing.Shape(outline, new(Ink.Target, Tokens.Pen), null);
        Symbol(frame.Drawing, at.X, at.Y, t.Probability.Value);
    }
}
