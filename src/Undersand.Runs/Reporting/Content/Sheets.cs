namespace Undersand.Runs.Reporting;

/// <summary>Larger-scale sheets of the parts that hold targets, where the overview is too small to show them at true size.</summary>
internal static class Sheets
{
    private const double CoarsestOverview = 400, Tallest = 80;
    private const int Most = 8;
    private static readonly double[] _scales = [200, 250, 300, 400, 500, 750, 1000, 1500, 2000];

    public static IEnumerable<Figure> Figures(SurveyResult result)
    {
        double overview = new MapFrame(Extent.Of(result), result.Survey.Epsg).Denominator;
        if (overview <= CoarsestOverview || result.Targets.Count == 0)
            yield break;
        foreach (double scale in _scales.Where(s => s <= overview / 1.5))
        {
            List<Extent> sheets = Cover(result, scale);
            if (sheets.Count > Most)
                continue;
            for (int i = 0; i < sheets.Count; i++)
                yield return Sheet(result, sheets[i], scale, i + 1, sheets.Count);
            yield break;
        }
    }

    // Greedy: the westernmost target not yet on a sheet is put near a sheet's edge, and the sheet takes what else fits.
    private static List<Extent> Cover(SurveyResult result, double scale)
    {
        double width = 0.165 * scale, height = Tallest / 1000 * scale, edge = 0.1 * height;
        var left = result.Targets.Select(t => t.Position).OrderBy(p => p.Easting).ThenBy(p => p.Northing).ToList();
        var sheets = new List<Extent>();
        while (left.Count > 0 && sheets.Count <= Most)
        {
            double west = left[0].Easting - edge;
            GridPoint[] strip = [.. left.Where(p => p.Easting <= west + width - edge)];
            double best = strip.Select(p => p.Northing - edge).MaxBy(s => strip.Count(p => p.Northing >= s + edge && p.Northing <= s + height - edge && left[0].Northing >= s + edge && left[0].Northing <= s + height - edge));
            if (left[0].Northing < best + edge || left[0].Northing > best + height - edge)
                best = left[0].Northing - edge;
            var inner = new Extent(west, best, west + width, best + height);
            var held = left.Where(p => inner.Grown(-0.99 * edge).Holds(p.Easting, p.Northing)).ToList();
            Extent tight = held.Aggregate(Extent.Nothing, (e, p) => e.With(p.Easting, p.Northing));
            double e = (tight.West + tight.East) / 2, n = (tight.South + tight.North) / 2;
            sheets.Add(new(e - width / 2, n - height / 2, e + width / 2, n + height / 2));
            left.RemoveAll(held.Contains);
        }
        return sheets;
    }

    private static Figure Sheet(SurveyResult result, Extent extent, double scale, int number, int count)
    {
        var frame = new MapFrame(extent, result.Survey.Epsg, tallest: Tallest, denominator: scale);
        Texture.Fill(frame, result.CouldHaveSeen);
        TrackMarks.Draw(frame, result.Lines, numbers: false);
        TargetMarks.Draw(frame, result.Targets, new Labels(frame));
        frame.Finish();
        int[] held = [.. result.Targets.Index().Where(t => frame.Extent.Holds(t.Item.Position.Easting, t.Item.Position.Northing)).Select(t => t.Index + 1)];
        return new(frame.Drawing, $"Sheet {number} of {count}, at 1 : {Numbers.Fixed(scale, 0)} on paper; signs as in the overview.", $"Map of a part of the survey with the targets {string.Join(", ", held)}.");
    }
}
