namespace Undersand.Runs.Reporting;

/// <summary>Numbers beside the signs of a map, none over another or over a sign; one that finds no room is left out.</summary>
/// <param name="frame">The map.</param>
/// <param name="farther">By how many millimetres a number may be moved off where there is no room beside its sign.</param>
internal sealed class Labels(MapFrame frame, double farther = 0)
{
    private static readonly (int X, int Y)[] s_places = [(1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (-1, -1), (1, 1), (-1, 1)];

    private readonly List<Box> _taken = [];

    /// <summary>Keeps a sign free.</summary>
    public void Keep(Spot at, double radius) => _taken.Add(new(at.X - radius, at.Y - radius, 2 * radius, 2 * radius));

    public void Put(Spot at, string text, double radius, Ink ink = Ink.Text)
    {
        var style = new TextStyle(Tokens.Label, ink, Anchor.Start, Bold: true, Plate: true);
        double width = Typeface.SemiBold.Width(text, Tokens.Label);
        foreach (double away in (double[])[radius, radius + farther])
            foreach ((double dx, double dy) in s_places)
            {
                double x = at.X + (dx > 0 ? away + 0.45 : dx < 0 ? -away - 0.45 - width : -width / 2), y = at.Y + (dy > 0 ? away + 2.55 : dy < 0 ? -away - 0.75 : 0.9);
                Box box = SvgWriter.Plate(new(x, y, text, style));
                if (!frame.Map.Holds(box) || _taken.Any(box.Overlaps))
                    continue;
                _taken.Add(box);
                frame.Drawing.Text(x, y, text, style);
                return;
            }
    }
}
