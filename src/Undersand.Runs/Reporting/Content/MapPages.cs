namespace Undersand.Runs.Reporting;

/// <summary>The maps.</summary>
internal static class MapPages
{
    /// <summary>Goes with whatever says what could have been seen.</summary>
    public const string Unlike = "Flat, long or soft things may lie there unseen.";

    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        string sphere = $"rigid sphere of {Numbers.Given(result.ReferenceDiameter)} m diameter";
        yield return new Heading(1, "Maps", "maps");
        yield return new Figure(SurveyMaps.Overview(result),
            $"Survey lines and targets. Numbers are those of the tables. Targets are drawn as outlines at true size with the one-sigma ellipse of their position; where a sign is larger than the thing, the sign marks its centre. A number is left out where it would cover another. What could have been seen is said of a hard ball. {Unlike}",
            $"Map of {Numbers.Count(result.Lines.Count, "survey line", "survey lines")} and {Numbers.Count(result.Targets.Count, "target", "targets")}; their positions are in the table “Where the targets lie”.");
        foreach (Figure sheet in Sheets.Figures(result))
            yield return sheet;
        yield return new Figure(SurveyMaps.Probability(result),
            "Greatest probability in each column of the ground, from the seabed to the deepest burial imaged. Slanting lines: not surveyed.",
            "Map of the greatest probability of a compact body in each column, on a scale from 0 to 1; the same values are in maps/ as a GeoTIFF.");
        yield return new Figure(SurveyMaps.CouldHaveSeen(result),
            $"What could have been seen: the deepest burial at which a {sphere} would have stood out. Dots: surveyed, but it would not have stood out at any burial. Slanting lines: not surveyed.",
            $"Map of the deepest burial at which a {sphere} would have stood out; areas are listed in the section “What could not have been seen”.");
        yield return new Figure(SurveyMaps.Seabed(result),
            "Depth of the seabed below the water surface at the time of the survey, smoothed over 0.5 m. Slanting lines: not known. Not for navigation.",
            "Map of the depth of the seabed; the same values are in maps/ as a GeoTIFF.");
    }
}
