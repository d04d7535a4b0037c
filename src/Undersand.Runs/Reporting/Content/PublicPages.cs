using NodaTime;

namespace Undersand.Runs.Reporting;

/// <summary>The report for everyone: what was found and how, and nothing from which a place could be read.</summary>
/// <remarks>
/// Left out are positions, maps, the reference system, depths of water, names of lines and files, ids of targets (they are made from positions), names of people,
/// free words, magnetics, all of finds but their number, and times finer than a month (a vessel's track may be public).
/// </remarks>
internal static class PublicPages
{
    private const string UsualTitle = "A survey of what lies under a seabed";

    public static ReportDocument Compose(SurveyResult result, JudgedSurvey judged, Func<string, Picture?> picture)
    {
        string title = judged.PublicWords is { Title.Length: > 0 } words ? words.Title : UsualTitle;
        LocalDate day = result.NewestPing.InUtc().Date;
        var month = new LocalDate(day.Year, day.Month, 1);
        return new ReportDocument(title, "Public version: positions are withheld", "Last recorded in " + NodaTime.Text.LocalDatePattern.CreateWithInvariantCulture("MMMM uuuu").Format(month), title + ": public version",
            month.AtMidnight().InUtc().ToInstant(), [.. Blocks(result, judged, picture)]);
    }

    private static IEnumerable<Block> Blocks(SurveyResult result, JudgedSurvey judged, Func<string, Picture?> picture)
    {
        yield return new Heading(1, "Summary", "summary");
        yield return new Paragraph(Summary.Found(result));
        yield return new Paragraph(Summary.Looked(result));
        foreach (Paragraph searched in Summary.Searched(result))
            yield return searched;
        yield return new Paragraph(JudgedPages.Counts(result, judged));
        yield return new Notice("Why no place is named", [new("Positions of what lies buried can invite looting, and disturbing it can be dangerous and against the law. Those entitled to know get them from whoever is named under “Whom to ask”.")], Danger: false);
        yield return new Heading(1, "Whom to ask", "contact");
        yield return new Paragraph(judged.PublicWords is { Contact.Length: > 0 } words ? words.Contact : "Ask the authority for underwater heritage of the coast concerned.");
        if (result.Targets.Count > 0)
        {
            yield return new Heading(1, "What was found", "targets");
            yield return Targets(result, judged);
        }
        foreach (Block block in JudgedPages.SecondOpinion(result, judged, withTargets: false))
            yield return block;
        foreach (Block block in JudgedPages.Photographs(result, judged, picture, publicOnly: true))
            yield return block;
        yield return new Heading(1, "Before anyone looks for it", "cautions");
        yield return new Notice("Danger to people", Safety.Dangers, Danger: true);
        yield return new Notice("Duties", [.. Safety.Duties.Where(d => d != Safety.Sensitive)], Danger: false);
        yield return new Notice("Limits of what sound can tell", Safety.Limits, Danger: false);
        foreach (Block block in Unseen.Blocks(result))
            yield return block;
        foreach (Block block in Evidence.Meaning(result))
            yield return block;
        foreach (Block block in Method.Blocks(result))
            yield return block;
    }

    private static Table Targets(SurveyResult result, JudgedSurvey judged) => new("The targets, most probable first; people’s measures beside the machine’s",
        [new("No."), new("Probability", "not calibrated", true), new("Burial of top", "m", true), new("Size", "length × width × thickness, m"), new("May be made of", TargetTables.MaterialTrust), new("People say"), new("Measured by hand")],
        [.. result.Targets.Select((t, i) => (IReadOnlyList<string>)
        [
            $"{i + 1}", Numbers.Probability(t.Probability.Value), Numbers.WithSd(t.BurialDepth), TargetTables.Size(t), TargetTables.MaterialWords(t),
            string.Join("; ", JudgedPages.Grouping(result, judged, t).Prepend(judged.Current.GetValueOrDefault(t.Id)?.Verdict is { } v ? SayingWords.Of(v) : "not judged")),
            judged.Of<HandMeasure>(t.Id).Select(m => SayingWords.Measures(m with { Source = "" })).FirstOrDefault() ?? "–",
        ])]);
}
