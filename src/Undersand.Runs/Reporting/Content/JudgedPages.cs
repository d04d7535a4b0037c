namespace Undersand.Runs.Reporting;

/// <summary>What people make of the targets, beside the machine's numbers.</summary>
internal static class JudgedPages
{
    public static IEnumerable<Block> Blocks(SurveyResult result, JudgedSurvey judged, Func<string, Picture?> picture)
    {
        yield return new Heading(1, "What people make of it", "judged");
        yield return new Paragraph(Counts(result, judged));
        yield return new Paragraph("Judgements, groupings, outlines and measures by hand are people’s; the machine’s numbers stand unchanged in the tables after them.");
        yield return Table(result, judged);
        MapFrame frame = new(Extent.Of(result), result.Survey.Epsg, legend: 23);
        SurveyMaps.Overview(result, frame);
        HandMarks.Draw(frame, result, judged);
        yield return new Figure(frame.Drawing, "Lines and targets as in the report, and over them what people drew: heavy dashed lines are outlines by hand, heavy lines join targets taken for one thing, crosses are the parts of a target taken for several, and a target struck through was rejected.", "Map of survey lines and targets with outlines by hand, groupings, parts and rejected targets struck through; all are in the table before it.");
        foreach (Block block in SecondOpinion(result, judged))
            yield return block;
        foreach (Block block in Photographs(result, judged, picture, publicOnly: false))
            yield return block;
        Saying[] gone = [.. judged.Gone(result.Targets)];
        if (gone.Length == 0)
            yield break;
        yield return new Heading(2, "Said about targets that are no longer listed", "gone");
        yield return new Items([.. gone.Select(s => new Paragraph($"{SayingWords.Of(s)}; {s.Who}, {Day(s)}.", s.TargetId + ":"))]);
    }

    public static string Counts(SurveyResult result, JudgedSurvey judged)
    {
        int Of(Verdict v) => result.Targets.Count(t => judged.Current.GetValueOrDefault(t.Id)?.Verdict == v);
        int open = result.Targets.Count(t => judged.Current.GetValueOrDefault(t.Id)?.Verdict is null);
        int groups = result.Targets.Select(t => judged.Group(t.Id)).Where(g => g.Count > 1).DistinctBy(g => string.Join(' ', g.Order(StringComparer.Ordinal))).Count();
        int split = result.Targets.Count(t => judged.Of<Partition>(t.Id).Any());
        return $"Of {Numbers.Count(result.Targets.Count, "target", "targets")}, {Of(Verdict.Accept)} were accepted, {Of(Verdict.Doubt)} left in doubt, {Of(Verdict.Reject)} rejected, and {open} not judged."
            + (groups > 0 ? $" {Numbers.Count(groups, "group of targets was", "groups of targets were")} taken for one thing each." : "") + (split > 0 ? $" {Numbers.Count(split, "target was", "targets were")} taken for several things." : "");
    }

    /// <summary>How far two judges agree; nothing before a blind round is over.</summary>
    public static IEnumerable<Block> SecondOpinion(SurveyResult result, JudgedSurvey judged, bool withTargets = true)
    {
        if (judged.Round is not { IsOver: true } round)
            yield break;
        Agreement agreement = Agreement.Of(judged.First, judged.Second);
        yield return new Heading(2, "A blind second opinion", "second-opinion");
        yield return new Paragraph($"A second judge{(withTargets ? $", {round.Who}," : "")} went through the targets in an order by chance, without the machine’s probabilities and without anyone’s judgement. {AgreementWords.Of(agreement)}");
        if (agreement.Count == 0)
            yield break;
        Verdict[] verdicts = Enum.GetValues<Verdict>();
        yield return new Table("First opinion (rows) against second (columns): numbers of targets", [new("First opinion"), .. verdicts.Select(v => new Column(SayingWords.Of(v), "", true))],
            [.. verdicts.Select(one => (IReadOnlyList<string>)[SayingWords.Of(one), .. verdicts.Select(other => $"{agreement.Table[(int)one, (int)other]}")])]);
        var differ = result.Targets.Index().Where(t => judged.First.GetValueOrDefault(t.Item.Id)?.Verdict is { } a && judged.Second.GetValueOrDefault(t.Item.Id)?.Verdict is { } b && a != b).Select(t => $"{t.Index + 1}").ToArray();
        if (differ.Length > 0 && withTargets)
            yield return new Paragraph($"{string.Join(", ", differ)}.", "The two differ on targets");
    }

    public static IEnumerable<Block> Photographs(SurveyResult result, JudgedSurvey judged, Func<string, Picture?> picture, bool publicOnly)
    {
        Figure[] figures = [.. Figures(result, judged, picture, publicOnly)];
        return figures.Length == 0 ? [] : [new Heading(2, "Photographs", "photographs"), .. figures];
    }

    private static IEnumerable<Figure> Figures(SurveyResult result, JudgedSurvey judged, Func<string, Picture?> picture, bool publicOnly)
    {
        foreach (var (i, target) in result.Targets.Index())
            foreach (Photograph photograph in judged.Of<Photograph>(target.Id).Where(p => p.IsPublic || !publicOnly))
                if (picture(photograph.File) is { } taken)
                {
                    // Free words may name the place, so the public version has none.
                    string said = publicOnly || photograph.Caption.Length == 0 ? "" : $": {photograph.Caption}";
                    yield return new Figure(PhotographFigure.Draw(taken), $"Photograph of target {i + 1}{said}.{(publicOnly ? "" : $" Attached by {photograph.Who}, {Day(photograph)}.")}", $"Photograph of target {i + 1}{said}");
                }
    }

    private static Table Table(SurveyResult result, JudgedSurvey judged) => new("What was said of each target",
        [new("No."), new("Verdict"), new("Visit"), new("Who"), new("When", "", true), new("Note"), new("By hand", "length × width × thickness, burial"), new("Grouping")],
        [.. result.Targets.Select((t, i) => (IReadOnlyList<string>)Row(result, judged, t, i))]);

    private static string[] Row(SurveyResult result, JudgedSurvey judged, Target t, int i)
    {
        Judgement? j = judged.Current.GetValueOrDefault(t.Id);
        string[] hand = [.. judged.Of<HandMeasure>(t.Id).Select(m => $"{SayingWords.Measures(m)} ({m.Who})"), .. judged.Of<HandOutline>(t.Id).Select(o => $"outline {Numbers.Fixed(o.Area, 2)} m² ({o.Who})")];
        string[] grouping = [.. Grouping(result, judged, t)];
        return
        [
            $"{i + 1}", j?.Verdict is { } v ? SayingWords.Of(v) + (j.Opinion == Opinion.Agreed ? " (decided)" : "") : "–", j?.Priority is { } p ? SayingWords.Of(p) : "–", j?.Who ?? "–", j is null ? "–" : Day(j), j is { Note.Length: > 0 } ? j.Note : "–",
            hand.Length == 0 ? "–" : string.Join("; ", hand), grouping.Length == 0 ? "–" : string.Join("; ", grouping),
        ];
    }

    public static IEnumerable<string> Grouping(SurveyResult result, JudgedSurvey judged, Target t)
    {
        var numbers = result.Targets.Index().ToDictionary(o => o.Item.Id, o => $"{o.Index + 1}");
        return SayingWords.Grouping(judged, t.Id, numbers.GetValueOrDefault);
    }

    private static string Day(Saying said) => NodaTime.Text.InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd").Format(said.When);
}
