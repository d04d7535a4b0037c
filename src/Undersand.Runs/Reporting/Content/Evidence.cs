namespace Undersand.Runs.Reporting;

/// <summary>What a probability here means, and on what it rests.</summary>
internal static class Evidence
{
    public static IEnumerable<Block> Blocks(SurveyResult result) => [.. Meaning(result), .. Tails(result)];

    /// <summary>Without the survey's own noise.</summary>
    public static IEnumerable<Block> Meaning(SurveyResult result)
    {
        Prior prior = result.Survey.Prior;
        double deepest = result.Survey.Image.MaxBurial, perCell = prior.ObjectsPerHectare / 1e4 / deepest * result.CellVolume;
        yield return new Heading(1, "What the probabilities mean", "evidence");
        yield return new Items(
        [
            new($"that a compact body of at least {Numbers.Given(prior.SmallestObject)} m, of any origin, has its top in a given cell.", "The event:"),
            new($"a volume that the image can just resolve, {Volume(result.CellVolume)} at 1 m of burial.", "The cell:"),
            new($"{Numbers.Given(prior.ObjectsPerHectare)} such bodies in a hectare between the seabed and {Numbers.Given(deepest)} m, that is one cell in {Numbers.Significant(1 / perCell, 2)} (log10 odds {Numbers.Signed(Math.Log10(perCell / (1 - perCell)), 1)}).{Used(result)}", "The prior:"),
            new("how many times more probable the measured sums are with a body than without. Its logarithm (base 10) added to the prior’s log10 odds gives the posterior’s. Who holds another prior may add it to the column of Bayes factors.", "The Bayes factor:"),
            new("the complex sums of a line’s looks add up, as its own navigation allows; between lines evidence is averaged, and the survey’s own voxels say, for each number of lines, how often chance reaches a value, so that correlated, unequal and speckled traces are counted for what they are.", "Looks and lines:"),
            new("no. No place that was opened has been held against these numbers, and no object was planted in the recordings to count how many come back. Until then a probability is a ranking with a scale of its own.", "Calibrated?"),
        ]);
    }

    // What the targets' own numbers say, so that a prior that varies with burial or place is seen.
    private static string Used(SurveyResult result)
    {
        double[] odds = [.. result.Targets.Select(t => (t.Probability.LogOdds - t.LogBayesFactor) / Math.Log(10)).Where(double.IsFinite)];
        if (odds.Length == 0)
            return "";
        string low = Numbers.Signed(odds.Min(), 1), high = Numbers.Signed(odds.Max(), 1);
        return low == high ? $" For the targets here it was {low}." : $" For the targets here it was {low} to {high}, by the size of their cells.";
    }

    private static string Volume(double cubicMetres) =>
        cubicMetres < 0.1 ? Numbers.Significant(cubicMetres * 1000, 2) + " litres" : Numbers.Significant(cubicMetres, 2) + " m³";

    private static IEnumerable<Block> Tails(SurveyResult result)
    {
        yield return new Heading(2, "The survey’s own noise", "tails");
        NullTail[] tails = [.. result.NullTails.Where(t => t.Statistic.Count > 1)];
        if (tails.Length == 0)
        {
            yield return new Paragraph("The survey was too small to measure its own tails.");
            yield break;
        }
        int shown = Math.Min(tails.Length, TailFigure.Most);
        NullTail[] chosen = [.. Enumerable.Range(0, shown).Select(i => tails[shown == 1 ? 0 : i * (tails.Length - 1) / (shown - 1)])];
        string left = shown < tails.Length ? $" {shown} of {tails.Length} ranges of burial are shown." : "";
        yield return new Figure(TailFigure.Draw(chosen),
            $"How often coherent energy over its local mean exceeds a value where there is no object. Where the dots lie right of the dashed line, these traces are not independent and equal, and the textbook would have called clutter an object. Dots that leave the solid line at its rare end are, or may be, the survey’s own objects.{left}",
            "Plots of the fraction of voxels whose evidence exceeds a value, on a logarithmic scale: measured, fitted and by formula, for each range of burial.");
    }
}
