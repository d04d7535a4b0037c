namespace Undersand.Runs.Reporting;

/// <summary>Finds with the targets near them, and targets with the finds and residuals near them.</summary>
internal static class GivenTables
{
    /// <summary>Metres around a target that count as near.</summary>
    private const double Near = 3;

    public static Table Finds(SurveyResult result) => new("Where someone looked, and what was found",
        [new("No."), new("Easting", "m", true), new("Northing", "m", true), new("Searched around", "m", true), new("Found"), new("Burial reached", "m", true), new("In the finder’s words"), new("Nearest target"), new("Away", "m", true)],
        [.. result.Outcomes.Select((o, i) => (IReadOnlyList<string>)Row(result, o, i))]);

    /// <summary>The targets that have a find or a reading near them, and how many have not.</summary>
    public static IEnumerable<Block> Targets(SurveyResult result)
    {
        var near = result.Targets.Index().Select(t => (t.Index, t.Item, Find: NearestFind(result.Outcomes, t.Item), Residual: Residual(result, t.Item))).Where(t => t.Find is not null || t.Residual is not null).ToArray();
        bool finds = result.Outcomes.Count > 0, magnetics = result.Magnetics.Count > 0;
        string neither = finds && magnetics ? "neither a find nor a reading" : finds ? "no find" : "no reading", within = $"within {Numbers.Given(Near)} m";
        string rest = near.Length == result.Targets.Count ? "" : $"There is {neither} {within} of {(near.Length == 0 ? "any target" : Numbers.Count(result.Targets.Count - near.Length, "further target", "further targets"))}. ";
        if (near.Length == 0)
        {
            if (rest.Length > 0)
                yield return new Paragraph(rest.TrimEnd());
            yield break;
        }
        Column[] columns = [new("No."), new("Burial of top", "m", true), .. finds ? FindColumns : [], .. magnetics ? ResidualColumns : []];
        double from = MagneticPoint.StandsOutFrom(result.Magnetics);
        yield return new Table($"Targets with a {(finds && magnetics ? "find or a reading" : finds ? "find" : "reading")} {within}{(finds ? ", or in a circle that was searched" : "")}", columns, [.. near.Select(t => (IReadOnlyList<string>)
        [
            $"{t.Index + 1}", Numbers.WithSd(t.Item.BurialDepth), .. finds ? Cells(t.Find) : [], .. magnetics ? Cells(t.Residual, from) : [],
        ])]);
        yield return new Paragraph($"{rest}Distances are level ones, from a target’s place, or its other place where that is nearer, to {(finds && magnetics ? "the middle of a find or to the sensor" : finds ? "the middle of a find" : "the sensor")}. That something is near doesn’t make it the same thing: mind the uncertainties of both.{(finds ? " A hole that ends above a target’s top says nothing about that target." : "")}");
    }

    private static readonly Column[] FindColumns = [new("Nearest find"), new("Away", "m", true)], ResidualColumns = [new("Strongest residual", "nT", true), new("Away", "m", true)];

    private static string[] Row(SurveyResult result, Outcome o, int i)
    {
        var nearest = result.Targets.Index().Select(t => (t.Index, Away: Away(t.Item, o.Place))).OrderBy(t => t.Away).FirstOrDefault((-1, 0));
        return
        [
            FindWords.Number(i), Numbers.Fixed(o.Easting, 2), Numbers.Fixed(o.Northing, 2), Numbers.Given(o.Radius), FindWords.What(o), Numbers.Given(o.ReachedDepth), o.Note.Length > 0 ? o.Note : "–",
            nearest.Index < 0 ? "–" : $"{nearest.Index + 1}", nearest.Index < 0 ? "–" : Numbers.Fixed(nearest.Away, 1),
        ];
    }

    private static string[] Cells((int Index, Outcome Outcome, double Away)? find) =>
        find is var (index, outcome, away) ? [$"{FindWords.Number(index)}: {FindWords.Of(outcome)}", Numbers.Fixed(away, 1)] : ["none", "–"];

    private static string[] Cells((double Residual, double Away)? reading, double from) => reading is not var (residual, away) ? ["no reading", "–"]
        : Math.Abs(residual) < from ? [$"below {FindWords.Field(from)}", "–"] : [(residual > 0 ? "+" : "−") + FindWords.Field(Math.Abs(residual)), Numbers.Fixed(away, 1)];

    /// <summary>The find nearest to a target, where one is near or the target lies in its circle.</summary>
    public static (int Index, Outcome Outcome, double Away)? NearestFind(IReadOnlyList<Outcome> finds, Target t) =>
        finds.Index().Select(o => (o.Index, o.Item, Away: Away(t, o.Item.Place))).Where(o => o.Away <= Math.Max(Near, o.Item.Radius)).OrderBy(o => o.Away).Cast<(int, Outcome, double)?>().FirstOrDefault();

    private static (double Residual, double Away)? Residual(SurveyResult result, Target t) =>
        result.Magnetics.Select(m => (m.ResidualNanotesla, Away: Away(t, m.Reading.Position))).Where(m => m.Away <= Near).OrderByDescending(m => Math.Abs(m.ResidualNanotesla)).Cast<(double, double)?>().FirstOrDefault();

    private static double Away(Target t, GridPoint from) => Math.Min(t.Position.HorizontalDistanceTo(from), t.Alternative?.HorizontalDistanceTo(from) ?? double.PositiveInfinity);
}
