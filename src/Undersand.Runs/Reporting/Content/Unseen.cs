namespace Undersand.Runs.Reporting;

/// <summary>What could not have been seen, how much of it, and why.</summary>
internal static class Unseen
{
    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        string sphere = $"rigid sphere of {Numbers.Given(result.ReferenceDiameter)} m";
        yield return new Heading(1, "What could not have been seen", "unseen");
        yield return new Paragraph($"The yardstick is a {sphere} diameter with its top at a burial. It would have stood out where its echo, after the losses on its way, rises above what the survey shows where there is nothing. Things that are smaller, softer, flatter, or turned away are seen less far; larger and harder ones farther.");
        (double surveyed, _) = Summary.SeenArea(result.CouldHaveSeen, 0);
        if (surveyed > 0)
            yield return Table(result, sphere, surveyed);
        else
            yield return new Paragraph("For this survey no such map could be made: nothing is known of what could have been seen, and the lack of a target means nothing.");
        yield return new Items([.. Reasons(result)]);
    }

    private static Table Table(SurveyResult result, string sphere, double surveyed)
    {
        double deepest = result.Survey.Image.MaxBurial, step = Math.Max(0.25, Scales.Step(deepest, 8));
        var rows = new List<IReadOnlyList<string>>();
        foreach (double burial in Scales.Ticks(step, deepest, step).Prepend(0))
        {
            (_, double seen) = Summary.SeenArea(result.CouldHaveSeen, burial);
            rows.Add([burial == 0 ? "any" : Numbers.Fixed(burial, 2), Numbers.Area(seen, surveyed), Numbers.Percent(seen / surveyed), Numbers.Area(surveyed - seen, surveyed), Numbers.Percent(1 - seen / surveyed)]);
        }
        return new($"A {sphere} down to a burial: where it would have stood out, of {Numbers.Area(surveyed)} surveyed", [new("Down to burial", "m", true), new("Would have stood out", "area", true), new("Share", "", true), new("Would not", "area", true), new("Share", "", true)], rows);
    }

    private static IEnumerable<Paragraph> Reasons(SurveyResult result)
    {
        Sediment sand = result.Survey.Sediment;
        double kHz = (result.Survey.Waveform?.CentreFrequency ?? 10000) / 1000;
        double loss = 2 * sand.AttenuationDbPerMetrePerKhz * kHz;
        if (double.IsFinite(loss))
            yield return new($"Down and back, this sediment takes about {Numbers.Significant(loss, 2)} dB from each metre of burial at {Numbers.Significant(kHz, 2)} kHz (twice {Numbers.Given(sand.AttenuationDbPerMetrePerKhz)} dB/m/kHz).", "Depth.");
        yield return new("Above about 0.10 m of burial nothing is claimed: there what is left of the seabed’s own echo can’t be told from a body.", "The top of the sand.");
        yield return new($"Below {Numbers.Given(result.Survey.Image.MaxBurial)} m of burial nothing was imaged.", "The deep.");
        yield return new("Gas, shell beds and hard layers above a thing hide it. Degraded timber may return nothing. A thin thing on edge and a smooth one that is tilted send their echoes elsewhere.", "Matter and shape.");
        yield return new("Between lines, at their ends and in gaps of the recording there are fewer looks or none; the map shows where.", "Coverage.");
    }
}
