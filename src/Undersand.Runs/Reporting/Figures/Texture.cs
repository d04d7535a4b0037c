namespace Undersand.Runs.Reporting;

/// <summary>What is known of a place, told apart by texture so that no one needs to see hues.</summary>
internal enum Ground
{
    /// <summary>No sound went there: sparse slanting lines.</summary>
    NotSurveyed,
    /// <summary>Surveyed, and even the reference sphere just below the seabed would not have stood out: dense dots.</summary>
    Blind,
    /// <summary>Surveyed, and the reference sphere would have stood out to some burial: plain.</summary>
    Seen,
}

/// <summary>Draws the textures.</summary>
internal static class Texture
{
    private const double Spacing = 2.6, DotSpacing = 1.15, Dot = 0.3;

    public static Ground At(Raster couldHaveSeen, double easting, double northing)
    {
        int x = (int)Math.Floor((easting - couldHaveSeen.OriginEasting) / couldHaveSeen.Spacing + 0.5), y = (int)Math.Floor((northing - couldHaveSeen.OriginNorthing) / couldHaveSeen.Spacing + 0.5);
        if (x < 0 || y < 0 || x >= couldHaveSeen.CountX || y >= couldHaveSeen.CountY)
            return Ground.NotSurveyed;
        float value = couldHaveSeen.Values[y * couldHaveSeen.CountX + x];
        return float.IsNaN(value) ? Ground.NotSurveyed : value > 0 ? Ground.Seen : Ground.Blind;
    }

    public static void Fill(MapFrame frame, Raster couldHaveSeen) =>
        frame.Drawing.Clip(frame.Map, () => Fill(frame.Drawing, frame.Map, spot =>
        {
            (double e, double n) = frame.Ground(spot);
            return At(couldHaveSeen, e, n);
        }));

    public static void Fill(Drawing drawing, Box box, Func<Spot, Ground> ground)
    {
        Hatch(drawing, box, ground);
        Dots(drawing, box, ground);
    }

    private static void Hatch(Drawing drawing, Box box, Func<Spot, Ground> ground)
    {
        const double step = 0.5;
        var strokes = new List<IReadOnlyList<Spot>>();
        for (double c = Spacing / 2; c < box.Width + box.Height; c += Spacing)
        {
            Spot? start = null, last = null;
            double first = Math.Max(0, c - box.Height), end = Math.Min(c, box.Width);
            for (double x = first; x <= end + step; x += step)
            {
                double at = Math.Min(x, end);
                var spot = new Spot(box.Left + at, box.Top + (c - at));
                bool inside = ground(spot) == Ground.NotSurveyed && x <= end + step / 2;
                if (inside)
                    start ??= spot;
                if ((!inside || at >= end) && start is Spot s)
                {
                    strokes.Add([s, inside ? spot : last ?? spot]);
                    start = null;
                }
                last = spot;
            }
        }
        drawing.Path(strokes, new(Ink.Rule, Tokens.Thin));
    }

    private static void Dots(Drawing drawing, Box box, Func<Spot, Ground> ground)
    {
        var dots = new List<IReadOnlyList<Spot>>();
        int row = 0;
        for (double y = box.Top + DotSpacing / 2; y < box.Bottom; y += DotSpacing, row++)
            for (double x = box.Left + DotSpacing * (row % 2 == 0 ? 0.25 : 0.75); x < box.Right; x += DotSpacing)
                if (ground(new(x, y)) == Ground.Blind)
                    dots.Add([new(x, y), new(x + Dot, y)]);
        drawing.Path(dots, new(Ink.Soft, Dot));
    }
}
