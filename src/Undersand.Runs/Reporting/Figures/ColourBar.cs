namespace Undersand.Runs.Reporting;

/// <summary>The scale of a colour map; what grows downwards in the ground grows downwards here.</summary>
internal static class ColourBar
{
    public static void Draw(Drawing drawing, Box box, ColourMap map, double low, double high, string title, bool downwards = false)
    {
        var bar = new Box(box.Left, box.Top + 5, box.Width, box.Height - 6);
        drawing.Text(box.Left, box.Top + 2.2, title, new(Tokens.Label, Ink.Text));
        drawing.Image(bar, Pixels.Bar(map, downwards));
        drawing.Box(bar, new(Ink.Soft, Tokens.Hair), null);
        double step = Scales.Step(high - low, 5);
        foreach (double tick in Scales.Ticks(low, high, step))
        {
            double along = (tick - low) / (high - low) * bar.Height, y = downwards ? bar.Top + along : bar.Bottom - along;
            drawing.Line(bar.Right, y, bar.Right + 0.8, y, new(Ink.Text));
            drawing.Text(bar.Right + 1.4, y + 0.8, Numbers.Fixed(tick, Scales.Decimals(step)), new(Tokens.Label, Ink.Text));
        }
    }
}
