namespace Undersand.Runs.Reporting;

/// <summary>Magnetics and finds, where the survey gave them, beside the targets. They shaped no number of the report.</summary>
internal static class GivenPages
{
    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        bool magnetics = result.Magnetics.Count > 0, finds = result.Outcomes.Count > 0;
        if (!magnetics && !finds)
            yield break;
        yield return new Heading(1, magnetics && finds ? "Magnetics and finds" : magnetics ? "Magnetics" : "Finds", "given");
        yield return new Paragraph("Given with the survey and shown beside the targets. No probability, material or place of a target in this report rests on it.");
        if (magnetics)
            yield return new Notice("What magnetics can say, and what not", [.. Limits(result)], Danger: false);
        yield return Map(result);
        if (finds)
        {
            yield return GivenTables.Finds(result);
            yield return new Paragraph("An empty hole says nothing about what lies below it, or beside the circle that was searched. Places are as the finders gave them.");
        }
        foreach (Block block in GivenTables.Targets(result))
            yield return block;
    }

    private static IEnumerable<Paragraph> Limits(SurveyResult result)
    {
        double most = result.Magnetics.Max(m => Math.Abs(m.ResidualNanotesla)), from = MagneticPoint.StandsOutFrom(result.Magnetics);
        yield return new($"{Numbers.Count(result.Magnetics.Count, "reading", "readings")}; what is shown is the total field less its running median over 30 m of line to either side. It stands out from {FindWords.Field(from)} nT on (three robust standard deviations of all readings, so more where much iron lies about, and at least 1 nT); the most is {FindWords.Field(most)} nT.", "The residual.");
        yield return new("Iron makes one, be it a cannon, an anchor, ordnance, a cable or modern debris; so do fired clay and some rock. Which of them, how much, how deep and just where, it doesn’t say: the middle of an anomaly, or of its high, need not lie over its cause.", "A residual is a hint.");
        yield return new("Iron’s field falls off with the cube of distance. What is small, or far below the sensor, is lost in the noise, and bronze, lead and wood show nothing. No residual is no leave to touch anything.", "No residual is not “no iron”.");
        yield return new("The median takes off most of the field’s change over the day, but no base station was used, and the sensor’s height and heading, the vessel’s own iron and the waves were left as they are. Anomalies wider than half the window are flattened, and at the ends of a line the window is halved.", "What was not corrected.");
    }

    private static Figure Map(SurveyResult result)
    {
        MapFrame frame = new(Extent.Of(result), result.Survey.Epsg, legend: 23);
        var labels = new Labels(frame, farther: 2);
        TrackMarks.Draw(frame, result.Lines, numbers: false);
        GivenMarks.Magnetics(frame, result.Magnetics);
        GivenMarks.Finds(frame, result.Outcomes, labels);
        TargetMarks.Draw(frame, result.Targets, labels);
        GivenMarks.Label(frame, result.Outcomes, labels);
        frame.Finish();
        Legend.Given(frame, result);
        int readings = result.Magnetics.Count(m => !frame.Extent.Holds(m.Reading.Position.Easting, m.Reading.Position.Northing)), finds = result.Outcomes.Count(o => !frame.Extent.Holds(o.Easting, o.Northing));
        string[] beyond = [.. readings > 0 ? [Numbers.Count(readings, "reading", "readings")] : Array.Empty<string>(), .. finds > 0 ? [Numbers.Count(finds, "find", "finds")] : Array.Empty<string>()];
        string magnetic = result.Magnetics.Count > 0 ? " Of readings that would hide each other, the one that stands out most is shown." : "";
        string searched = result.Outcomes.Count > 0 ? " Circles of finds are as wide as was searched, or a little wider where they would be too small to see." : "";
        return new(frame.Drawing, $"{Shown(result)} Targets as in the overview.{magnetic}{searched}{(beyond.Length > 0 ? $" Beyond this map lie {string.Join(" and ", beyond)}." : "")}",
            $"Map of {Numbers.Count(result.Targets.Count, "target", "targets")} with {Numbers.Count(result.Magnetics.Count, "magnetometer reading", "magnetometer readings")} and {Numbers.Count(result.Outcomes.Count, "find", "finds")}; finds, and what lies near the targets, are in the tables after it.");
    }

    private static string Shown(SurveyResult result) =>
        result.Outcomes.Count == 0 ? "The residual of the magnetic field, and the targets." : result.Magnetics.Count == 0 ? "Where someone looked, and the targets." : "The residual of the magnetic field, where someone looked, and the targets.";
}
