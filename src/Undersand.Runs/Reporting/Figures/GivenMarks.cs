namespace Undersand.Runs.Reporting;

/// <summary>Magnetics and finds on a map, with the signs that the workbench's map has for them.</summary>
internal static class GivenMarks
{
    private const double Least = 1.1, Doubled = 0.5, Most = 2.9, Dot = 0.3, Apart = 4.8, DotsApart = 1.8, LeastCircle = 2, Arm = 1;

    /// <summary>By how many times what stands out at all a residual must be for the largest sign.</summary>
    public static readonly double Largest = Math.Pow(2, (Most - Least) / Doubled);

    public static void Magnetics(MapFrame frame, IReadOnlyList<MagneticPoint> points)
    {
        double from = MagneticPoint.StandsOutFrom(points);
        frame.Drawing.Clip(frame.Map, () =>
        {
            foreach (var (at, residual) in Chosen(frame, points, from))
                Reading(frame.Drawing, at, residual, from);
        });
    }

    /// <summary>A full triangle upwards, an empty one downwards, or a dot where it does not stand out.</summary>
    public static void Reading(Drawing drawing, Spot at, double residual, double from)
    {
        if (Math.Abs(residual) < from)
        {
            drawing.Disc(at.X, at.Y, Dot, null, Ink.Soft);
            return;
        }
        double size = Math.Min(Most, Least + Doubled * Math.Log2(Math.Abs(residual) / from)), up = residual > 0 ? -1 : 1;
        Spot[] triangle = [new(at.X, at.Y + up * size), new(at.X - 0.87 * size, at.Y - up * size / 2), new(at.X + 0.87 * size, at.Y - up * size / 2)];
        drawing.Shape(triangle, new(Ink.Paper, 3 * Tokens.Pen), null);
        drawing.Shape(triangle, new(Ink.Text, Tokens.Pen), residual > 0 ? Ink.Text : Ink.Paper);
    }

    public static void Finds(MapFrame frame, IReadOnlyList<Outcome> finds, Labels labels)
    {
        frame.Drawing.Clip(frame.Map, () =>
        {
            foreach (Outcome o in finds)
                Find(frame.Drawing, frame.At(o.Easting, o.Northing), Radius(frame, o), o.Kind);
        });
        foreach (Outcome o in finds.Where(o => Radius(frame, o) < 1.5 * LeastCircle))
            labels.Keep(frame.At(o.Easting, o.Northing), Radius(frame, o));
    }

    public static void Label(MapFrame frame, IReadOnlyList<Outcome> finds, Labels labels)
    {
        foreach (var (i, o) in finds.Index().Where(o => frame.Extent.Holds(o.Item.Easting, o.Item.Northing)))
            labels.Put(frame.At(o.Easting, o.Northing), FindWords.Number(i), Radius(frame, o));
    }

    private static double Radius(MapFrame frame, Outcome o) => Math.Max(LeastCircle, frame.Millimetres(o.Radius));

    /// <summary>A stroke of its own for each outcome, and a cross in the middle where an object was.</summary>
    public static void Find(Drawing drawing, Spot at, double radius, OutcomeKind kind)
    {
        Spot[] circle = Spot.Ellipse(at.X, at.Y, radius, radius, 0);
        drawing.Shape(circle, new(Ink.Paper, 3 * Tokens.Pen), null);
        drawing.Shape(circle, new(Ink.Text, Tokens.Bold, kind switch { OutcomeKind.Nothing => 1.4, OutcomeKind.Natural => 0.5, _ => 0 }), null);
        if (kind == OutcomeKind.Object)
            drawing.Path([[new(at.X - Arm, at.Y - Arm), new(at.X + Arm, at.Y + Arm)], [new(at.X - Arm, at.Y + Arm), new(at.X + Arm, at.Y - Arm)]], new(Ink.Text, Tokens.Bold));
    }

    // Of readings that would hide each other, the one that stands out most; above and below are kept apart. The strongest is drawn last.
    private static IEnumerable<(Spot At, double Residual)> Chosen(MapFrame frame, IReadOnlyList<MagneticPoint> points, double from)
    {
        var cells = new Dictionary<(int, int, int), (Spot At, double Residual)>();
        foreach (MagneticPoint p in points.Where(p => frame.Extent.Holds(p.Reading.Position.Easting, p.Reading.Position.Northing)))
        {
            Spot at = frame.At(p.Reading.Position.Easting, p.Reading.Position.Northing);
            double residual = p.ResidualNanotesla;
            bool stands = Math.Abs(residual) >= from;
            double cell = stands ? Apart : DotsApart;
            var key = (stands ? Math.Sign(residual) : 0, (int)(at.X / cell), (int)(at.Y / cell));
            if (!cells.TryGetValue(key, out var held) || Math.Abs(held.Residual) < Math.Abs(residual))
                cells[key] = (at, residual);
        }
        return cells.Values.OrderBy(c => Math.Abs(c.Residual));
    }
}
