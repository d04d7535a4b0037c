namespace Undersand.Runs.Reporting;

/// <summary>How often the evidence exceeds a value where there is nothing: the survey's own voxels, the tail used, and the textbook's.</summary>
internal static class TailFigure
{
    public const int Most = 9;

    private const double Left = 13, Gap = 14, PanelHeight = 36, Row = 51;

    public static Drawing Draw(IReadOnlyList<NullTail> tails)
    {
        double width = (Tokens.TextWidth - Left - 2 * Gap) / 3 - 0.5;
        int rows = (tails.Count + 2) / 3;
        var drawing = new Drawing(Tokens.TextWidth, rows * Row + 3);
        (double low, double high, double rarest) = Range(tails);
        for (int i = 0; i < tails.Count; i++)
        {
            NullTail tail = tails[i];
            var plot = new Plot(drawing, new(Left + i % 3 * (width + Gap), i / 3 * Row + 4, width, PanelHeight), low, high, rarest, 0);
            plot.Frame($"{Numbers.Fixed(tail.FromBurial, 2)} to {Numbers.Fixed(tail.ToBurial, 2)} m burial", "coherent energy over its local mean, dB", "fraction above", yText: Power);
            plot.Curve(Points(tail, tail.Formula), new(Ink.Soft, Tokens.Pen, 1.1));
            plot.Curve(Points(tail, tail.Fitted), new(Ink.Track, Tokens.Bold));
            plot.Dots(Points(tail, tail.Measured), Ink.Target);
        }
        Key(drawing, rows * Row + 0.5);
        return drawing;
    }

    private static IEnumerable<(double, double)> Points(NullTail tail, IReadOnlyList<double> fractions) =>
        tail.Statistic.Zip(fractions, (x, f) => (x, f > 0 ? Math.Log10(f) : double.NaN));

    // Written as fractions because the font has raised digits and no raised minus.
    private static string Power(double log)
    {
        int power = (int)Math.Round(-log);
        return power == 0 ? "1" : power < 3 ? $"1/{Math.Pow(10, power)}" : "1/10" + string.Concat(power.ToString().Select(d => "⁰¹²³⁴⁵⁶⁷⁸⁹"[d - '0']));
    }

    private static void Key(Drawing drawing, double y)
    {
        drawing.Disc(Left + 1, y, 0.42, null, Ink.Target);
        drawing.Disc(Left + 3, y, 0.42, null, Ink.Target);
        drawing.Text(Left + 6, y + 0.9, "measured in this survey", new(Tokens.Label));
        drawing.Line(Left + 42, y, Left + 49, y, new(Ink.Track, Tokens.Bold));
        drawing.Text(Left + 51, y + 0.9, "fitted, and used", new(Tokens.Label));
        drawing.Line(Left + 78, y, Left + 85, y, new(Ink.Soft, Tokens.Pen, 1.1));
        drawing.Text(Left + 87, y + 0.9, "formula for independent Gaussian traces of equal power", new(Tokens.Label));
    }

    private static (double Low, double High, double Rarest) Range(IReadOnlyList<NullTail> tails)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity, rarest = 0;
        foreach (NullTail tail in tails)
            for (int i = 0; i < tail.Statistic.Count; i++)
            {
                if (!double.IsFinite(tail.Statistic[i]))
                    continue;
                low = Math.Min(low, tail.Statistic[i]);
                high = Math.Max(high, tail.Statistic[i]);
                if (i < tail.Measured.Count && tail.Measured[i] > 0)
                    rarest = Math.Min(rarest, Math.Log10(tail.Measured[i]));
            }
        return low > high ? (0, 1, -1) : (low, high, Math.Max(-12, Math.Min(-2, Math.Floor(rarest) - 1)));
    }
}
