namespace Undersand.Runs.Reporting;

/// <summary>The strongest targets one by one, each with its pictures.</summary>
internal static class TargetPages
{
    private const int Most = 12;

    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        TargetView[] views = [.. result.Views.Where(v => result.Targets.Any(t => t.Id == v.TargetId)).Take(Most)];
        if (views.Length == 0)
            yield break;
        yield return new Heading(1, "The strongest targets, one by one", "pictures");
        yield return new Paragraph("Amplitude in decibels below the target’s own peak; what is weaker than −30 dB, or was not imaged, is white. Burial grows downwards and is counted from the seabed smoothed over 0.5 m. Orange line: outline at true size, without width where only the length is resolved; dashed: one-sigma ellipse of the position; in the sections, the marks beside the target stand at the burial of its top and are as tall as its uncertainty. The blue line is the seabed. The echo of an elastic body goes on below its top.");
        foreach (TargetView view in views)
        {
            int index = result.Targets.Index().First(t => t.Item.Id == view.TargetId).Index;
            Target target = result.Targets[index];
            yield return new Heading(2, $"Target {index + 1} · {target.Id}", $"target-{index + 1}");
            yield return new Figure(TargetFigure.Draw(target, view), Caption(target),
                $"Three grey pictures of target {index + 1}: from above, from west to east, and from south to north; the top is at {Numbers.WithSd(target.BurialDepth)} m burial.");
        }
    }

    private static string Caption(Target t)
    {
        int decimals = Numbers.Decimals(t.HorizontalSd, 2);
        string notes = t.Notes.Count == 0 ? "" : " Reservations: " + string.Join(" ", t.Notes);
        return $"{Numbers.Fixed(t.Position.Easting, decimals)} E, {Numbers.Fixed(t.Position.Northing, decimals)} N, ± {Numbers.Fixed(t.HorizontalSd, Numbers.Decimals(t.HorizontalSd, 3))} m; burial of the top {Numbers.WithSd(t.BurialDepth)} m; size {TargetTables.Size(t, name: "m")}; probability {Numbers.Probability(t.Probability.Value)} (not calibrated), log10 Bayes factor {Numbers.Signed(t.LogBayesFactor / Math.Log(10), 1)}; material {TargetTables.MaterialWords(t)} ({TargetTables.MaterialTrust}); {TargetTables.Strength(t)}; {Numbers.Count(t.LinesSeen, "line", "lines")}, {Numbers.Count(t.Looks, "look", "looks")}.{notes}";
    }
}
