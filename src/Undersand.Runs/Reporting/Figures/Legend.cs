namespace Undersand.Runs.Reporting;

/// <summary>What the signs of the overview mean, in two columns under it.</summary>
internal static class Legend
{
    private const double Row = 5.2, Swatch = 9, ColumnWidth = 86;

    public static void Draw(MapFrame frame, SurveyResult result)
    {
        Drawing drawing = frame.Drawing;
        double top = frame.LegendTop + 2, left = frame.Map.Left, right = left + ColumnWidth;
        Area(drawing, left, top, Ground.Seen, "Surveyed, could have been seen; no sign: nothing found");
        Area(drawing, left, top + Row, Ground.Blind, "Surveyed, but nothing could have been seen");
        Area(drawing, left, top + 2 * Row, Ground.NotSurveyed, "Not surveyed");
        drawing.Line(left, top + 3 * Row + 1.5, left + Swatch, top + 3 * Row + 1.5, new(Ink.Track));
        drawing.Disc(left, top + 3 * Row + 1.5, 0.5, null, Ink.Track);
        Words(drawing, left, top + 3 * Row, "Survey line; a dot and its number at the start");
        Symbols(drawing, right, top);
        drawing.Shape(Spot.Ellipse(right + 4.5, top + Row + 1.5, 4, 1.2, Math.PI / 2), new(Ink.Target, Tokens.Thin), null);
        Words(drawing, right, top + Row, "One-sigma ellipse of the position, true size");
        drawing.Shape(Spot.Ellipse(right + 4.5, top + 2 * Row + 1.5, 3, 1.6, Math.PI / 2), new(Ink.Target, Tokens.Pen), null);
        Words(drawing, right, top + 2 * Row, "Outline of the body, true size, where resolved");
        drawing.Line(right, top + 3 * Row + 1.5, right + 6.5, top + 3 * Row + 1.5, new(Ink.Target, Tokens.Thin, 0.8));
        drawing.Shape(Spot.Ellipse(right + 7.7, top + 3 * Row + 1.5, 1.2, 1.2, 0), new(Ink.Target, Tokens.Thin, 0.8), null);
        Words(drawing, right, top + 3 * Row, "Other place where the same echo could lie");
    }

    /// <summary>What the signs of the map of magnetics and finds mean.</summary>
    public static void Given(MapFrame frame, SurveyResult result)
    {
        Drawing drawing = frame.Drawing;
        var rows = new List<Action<double, double>>();
        if (result.Magnetics.Count > 0)
        {
            double from = MagneticPoint.StandsOutFrom(result.Magnetics);
            rows.Add((x, y) => Residuals(drawing, x, y, from, 1, "nT above the running median"));
            rows.Add((x, y) => Residuals(drawing, x, y, from, -1, "nT below the running median"));
            rows.Add((x, y) =>
            {
                GivenMarks.Reading(drawing, new(x + Swatch / 2, y + 1.5), 0, from);
                Words(drawing, x, y, $"Reading that stands out by less than {FindWords.Field(from)} nT");
            });
        }
        if (result.Outcomes.Count > 0)
            foreach (var (kind, words) in new[] { (OutcomeKind.Object, "Searched: an object found" ), (OutcomeKind.Nothing, "Searched: nothing, to the burial in the table"), (OutcomeKind.Natural, "Searched: something natural") })
                rows.Add((x, y) =>
                {
                    GivenMarks.Find(drawing, new(x + Swatch / 2, y + 1.5), 2, kind);
                    Words(drawing, x, y, words);
                });
        rows.Add((x, y) =>
        {
            TargetMarks.Symbol(drawing, x + Swatch / 2, y + 1.5, 0.95);
            Words(drawing, x, y, "Target with its number, filled as in the overview");
        });
        rows.Add((x, y) =>
        {
            drawing.Line(x, y + 1.5, x + Swatch, y + 1.5, new(Ink.Track));
            Words(drawing, x, y, "Survey line of the sonar");
        });
        int half = (rows.Count + 1) / 2;
        for (int i = 0; i < rows.Count; i++)
            rows[i](frame.Map.Left + i / half * ColumnWidth, frame.LegendTop + 2 + i % half * Row);
    }

    // The least, and the largest sign.
    private static void Residuals(Drawing drawing, double x, double y, double from, int sign, string words)
    {
        GivenMarks.Reading(drawing, new(x + 2, y + 1.5), sign * from, from);
        drawing.Text(x + 4.4, y + 2.4, FindWords.Field(from), new(Tokens.Label));
        GivenMarks.Reading(drawing, new(x + 14, y + 1.5), sign * GivenMarks.Largest * from, from);
        drawing.Text(x + 17.4, y + 2.4, $"{FindWords.Field(GivenMarks.Largest * from)} and more, {words}", new(Tokens.Label));
    }

    private static void Symbols(Drawing drawing, double x, double y)
    {
        double[] levels = [0.95, 0.7, 0.2];
        string[] words = ["0.9 and more", "0.5 to 0.9", "below 0.5"];
        for (int i = 0; i < 3; i++)
        {
            TargetMarks.Symbol(drawing, x + 2 + i * 26, y + 1.5, levels[i]);
            drawing.Text(x + 4.4 + i * 26, y + 2.4, words[i], new(Tokens.Label));
        }
    }

    private static void Area(Drawing drawing, double x, double y, Ground ground, string words)
    {
        var box = new Box(x, y - 0.2, Swatch, 3.6);
        drawing.Clip(box, () => Texture.Fill(drawing, box, _ => ground));
        drawing.Box(box, new(Ink.Soft, Tokens.Hair), null);
        Words(drawing, x, y, words);
    }

    private static void Words(Drawing drawing, double x, double y, string words) => drawing.Text(x + Swatch + 2.2, y + 2.4, words, new(Tokens.Label));
}
