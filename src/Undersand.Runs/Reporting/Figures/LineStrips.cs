namespace Undersand.Runs.Reporting;

/// <summary>Vehicle and seabed along each line, two strips beside each other.</summary>
internal static class LineStrips
{
    /// <summary>Lines that one figure holds.</summary>
    public const int Most = 12;

    private const double Left = 12, Gap = 14, StripHeight = 19, Row = 31;

    /// <param name="lines">No more than <see cref="Most"/>.</param>
    /// <param name="firstNumber">Number of the first.</param>
    public static Drawing Draw(IReadOnlyList<LineResult> lines, int firstNumber)
    {
        int rows = (lines.Count + 1) / 2;
        double width = (Tokens.TextWidth - Left - Gap) / 2 - 1;
        var drawing = new Drawing(Tokens.TextWidth, rows * Row + 5);
        (double shallow, double deep) = Depths(lines);
        for (int i = 0; i < lines.Count; i++)
        {
            var box = new Box(Left + i % 2 * (width + Gap), i / 2 * Row + 4, width, StripHeight);
            Strip(drawing, box, lines[i], firstNumber + i, shallow, deep, bottom: i >= lines.Count - 2);
        }
        Key(drawing, rows * Row + 2);
        return drawing;
    }

    private static void Strip(Drawing drawing, Box box, LineResult line, int number, double shallow, double deep, bool bottom)
    {
        double[] along = Along(line);
        var plot = new Plot(drawing, box, 0, Math.Max(along.DefaultIfEmpty(1).Last(), 0.1), deep, shallow);
        plot.Frame($"L{number}  {Short(line.Name, box.Width - 10)}", bottom ? "along the line, m" : "", "depth, m");
        plot.Curve(line.Pings.Select((p, i) => (along[i], p.Source.Depth)), new(Ink.Track, Tokens.Pen));
        plot.Curve(line.Pings.Select((p, i) => (along[i], p.SeabedDepth ?? double.NaN)), new(Ink.Text, Tokens.Bold));
        plot.Dots(line.Pings.Select((p, i) => (along[i], p.Used ? double.NaN : p.Source.Depth)), Ink.Target);
    }

    private static void Key(Drawing drawing, double y)
    {
        drawing.Line(Left, y, Left + 7, y, new(Ink.Track, Tokens.Pen));
        drawing.Text(Left + 9, y + 0.9, "source", new(Tokens.Label));
        drawing.Line(Left + 26, y, Left + 33, y, new(Ink.Text, Tokens.Bold));
        drawing.Text(Left + 35, y + 0.9, "seabed", new(Tokens.Label));
        drawing.Disc(Left + 55, y, 0.5, null, Ink.Target);
        drawing.Text(Left + 58, y + 0.9, "ping not used", new(Tokens.Label));
    }

    private static double[] Along(LineResult line)
    {
        var along = new double[line.Pings.Count];
        for (int i = 1; i < along.Length; i++)
        {
            double step = line.Pings[i].Source.HorizontalDistanceTo(line.Pings[i - 1].Source);
            along[i] = along[i - 1] + (double.IsFinite(step) ? step : 0);
        }
        return along;
    }

    private static (double Shallow, double Deep) Depths(IReadOnlyList<LineResult> lines)
    {
        double shallow = double.PositiveInfinity, deep = double.NegativeInfinity;
        foreach (PingResult ping in lines.SelectMany(l => l.Pings))
            foreach (double depth in (double[])[ping.Source.Depth, ping.SeabedDepth ?? double.NaN])
                if (double.IsFinite(depth))
                    (shallow, deep) = (Math.Min(shallow, depth), Math.Max(deep, depth));
        return shallow > deep ? (0, 1) : (shallow - 0.1 * Math.Max(0.5, deep - shallow), deep + 0.1 * Math.Max(0.5, deep - shallow));
    }

    private static string Short(string name, double width)
    {
        if (Typeface.SemiBold.Width(name, Tokens.Label) <= width)
            return name;
        int n = name.Length;
        while (n > 1 && Typeface.SemiBold.Width(name[..n] + "…", Tokens.Label) > width)
            n--;
        return name[..n] + "…";
    }
}
