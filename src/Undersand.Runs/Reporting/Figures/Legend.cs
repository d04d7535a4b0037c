namespace Undersand.Runs.Reporting;

/// <summary>What the signs of the overview mean, in two columns under it.</summary>
internal static class Legend
{
    private const double Row = 5.2, Swatch = 9, ColumnWidth = 86;

    public static void Draw(MapFrame frame, SurveyResult result)
    {
        Drawing drawing = frame.Drawing;
        double top = frame.LegendTop + 2, left = frame.Map.Left, right = left + ColumnWidth;
        string ball = $"hard ball of {Numbers.Given(result.ReferenceDiameter)} m";
        Area(drawing, left, top, Ground.Seen, $"A {ball} could have been seen; no sign found");
        Area(drawing, left, top + Row, Ground.Blind, $"Surveyed, but a {ball} could not have been seen");
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
        double from = MagneticPoint.StandsOutFrom(result.Magnetics);
        Action<double, double>[] magnetics = result.Magnetics.Count == 0 ? [] :
        [
            (x, y) => Residuals(drawing, x, y, from, "nT above the running median"),
            (x, y) => Residuals(drawing, x, y, -from, "nT below the running median"),
            (x, y) => Sign(drawing, x, y, at => GivenMarks.Reading(drawing, at, 0, from), $"Reading that stands out by less than {FindWords.Field(from)} nT"),
        ];
        Action<double, double> Find(OutcomeKind kind, string words) => (x, y) => Sign(drawing, x, y, at => GivenMarks.Find(drawing, at, 2, kind), words);
        Action<double, double>[] finds = result.Outcomes.Count == 0 ? [] :
            [Find(OutcomeKind.Object, "Searched: an object found"), Find(OutcomeKind.Nothing, "Searched: nothing, to the burial in the table"), Find(OutcomeKind.Natural, "Searched: something natural")];
        Action<double, double>
            target = (x, y) => Sign(drawing, x, y, at => TargetMarks.Symbol(drawing, at.X, at.Y, 0.95), "Target with its number, filled as in the overview"),
            line = (x, y) => Sign(drawing, x, y, at => drawing.Line(x, at.Y, x + Swatch, at.Y, new(Ink.Track)), "Survey line of the sonar");
        Action<double, double>[][] columns = magnetics.Length > 0 && finds.Length > 0 ? [[.. magnetics, target], [.. finds, line]] : [[.. magnetics, .. finds], [target, line]];
        foreach (var (column, rows) in columns.Index())
            foreach (var (row, draw) in rows.Index())
                draw(frame.Map.Left + column * ColumnWidth, frame.LegendTop + 2 + row * Row);
    }

    // The least, and the largest sign.
    private static void Residuals(Drawing drawing, double x, double y, double from, string words)
    {
        double least = Math.Abs(from), most = GivenMarks.Largest * least;
        GivenMarks.Reading(drawing, new(x + 2, y + 1.5), from, least);
        drawing.Text(x + 4.4, y + 2.4, FindWords.Field(least), new(Tokens.Label));
        GivenMarks.Reading(drawing, new(x + 14, y + 1.5), GivenMarks.Largest * from, least);
        drawing.Text(x + 18, y + 2.4, $"{FindWords.Field(most)} and more, {words}", new(Tokens.Label));
    }

    private static void Sign(Drawing drawing, double x, double y, Action<Spot> draw, string words)
    {
        draw(new(x + Swatch / 2, y + 1.5));
        Words(drawing, x, y, words);
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
