namespace Undersand.Runs.Reporting;

/// <summary>The scale of a colour map.</summary>
internal static class ColourBar
{
    public static void Draw(Drawing drawing, Box box, ColourMap map, double low, double high, string title)
    {
        var bar = new Box(box.Left, box.Top + 5, box.Width, box.Height - 6);
        drawing.Text(box.Left, box.Top + 2.2, title, new(Tokens.Label, Ink.Text));
        drawing.Image(bar, Pixels.Bar(map));
        drawing.Box(bar, new(Ink.Soft, Tokens.Hair), null);
        double step = Scales.Step(high - low, 5);
        foreach (double tick in Scales.Ticks(low, high, step))
        {
            double y = bar.Bottom - (tick - low) / (high - low) * bar.Height;
            drawing.Line(bar.Right, y, bar.Right + 0.8, y, new(Ink.Text));
            drawing.Text(bar.Right + 1.4, y + 0.8, Numbers.Fixed(tick, Scales.Decimals(step)), new(Tokens.Label, Ink.Text));
        }
    }
}
