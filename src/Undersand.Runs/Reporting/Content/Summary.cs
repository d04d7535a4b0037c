namespace Undersand.Runs.Reporting;

/// <summary>The first page: the answer in plain words.</summary>
internal static class Summary
{
    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        yield return new Heading(1, "Summary", "summary");
        yield return new Paragraph(Found(result));
        yield return new Paragraph(Looked(result));
        foreach (Paragraph searched in Searched(result))
            yield return searched;
        yield return new Notice("How far to trust this", [.. Reservations(result)], Danger: false);
        yield return new Facts([.. Facts(result)]);
    }

    public static double ImagedArea(SurveyResult result) =>
        result.GreatestProbability.Values.Count(v => !float.IsNaN(v)) * result.GreatestProbability.Spacing * result.GreatestProbability.Spacing;

    /// <summary>Area surveyed, and area where the reference sphere would have stood out down to at least a burial, square metres.</summary>
    public static (double Surveyed, double Seen) SeenArea(Raster couldHaveSeen, double burial)
    {
        double cell = couldHaveSeen.Spacing * couldHaveSeen.Spacing;
        int surveyed = couldHaveSeen.Values.Count(v => !float.IsNaN(v)), seen = couldHaveSeen.Values.Count(v => v > 0 && v >= burial);
        return (surveyed * cell, seen * cell);
    }

    /// <summary>How many, how probable, how deep.</summary>
    public static string Found(SurveyResult result)
    {
        int n = result.Targets.Count;
        if (n == 0)
            return "No target was found. That is not the same as an empty seabed: the section “What could not have been seen” says where and how deep an object would have stood out.";
        int high = result.Targets.Count(t => t.Probability.Value >= 0.9), low = result.Targets.Count(t => t.Probability.Value < 0.5);
        string levels = string.Join(", ", new[] { (high, "at a probability of 0.9 or more"), (n - high - low, "between 0.5 and 0.9"), (low, "below 0.5") }.Where(l => l.Item1 > 0).Select(l => $"{l.Item1} {l.Item2}"));
        Target[] buried = [.. result.Targets.OrderBy(t => t.BurialDepth.Value)];
        string depth = n == 1
            ? $"Its top lies {Numbers.WithSd(buried[0].BurialDepth)} m below the seabed."
            : $"Their tops lie {Numbers.WithSd(buried[0].BurialDepth)} m to {Numbers.WithSd(buried[^1].BurialDepth)} m below the seabed.";
        int mirrored = result.Targets.Count(t => t.Alternative is not null);
        string mirror = mirrored == 0 ? "" : $" {mirrored} of them could as well lie at a second place, across the only line that saw {(mirrored == 1 ? "it" : "them")}.";
        return $"{Numbers.Count(n, "target was", "targets were")} found: {levels}. {depth}{mirror}";
    }

    /// <summary>How much was looked at.</summary>
    public static string Looked(SurveyResult result)
    {
        double imaged = ImagedArea(result);
        if (result.Lines.Count == 0)
            return "No line was processed, and nothing is known of this seabed.";
        (double surveyed, double seen) = SeenArea(result.CouldHaveSeen, 0);
        string length = Numbers.Significant(result.Lines.Sum(l => l.Quality.Length), 3);
        string sees = surveyed > 0
            ? $" A rigid sphere of {Numbers.Given(result.ReferenceDiameter)} m would have stood out somewhere below the seabed in {Numbers.Percent(seen / surveyed)} of the area surveyed."
            : " Nowhere could it be said what would have stood out.";
        return $"{Numbers.Count(result.Lines.Count, "line", "lines")} of together {length} m were processed and {Numbers.Area(imaged)} of seabed were imaged, down to {Numbers.Given(result.Survey.Image.MaxBurial)} m of burial.{sees}";
    }

    /// <summary>In how many places people looked, where they said so; no place is named.</summary>
    public static IEnumerable<Paragraph> Searched(SurveyResult result)
    {
        if (result.Outcomes.Count > 0)
            yield return new(FindWords.Counts(result.Outcomes) + " The probabilities don’t know of it.");
    }

    private static IEnumerable<Paragraph> Reservations(SurveyResult result)
    {
        yield return new("They are degrees of belief under the stated prior and have not yet been checked against places that were opened. Use their order; do not use them as frequencies.", "The probabilities are not calibrated.");
        yield return new("The report states, for each place, down to what burial a reference object could have been seen.", "Absence of a target is not absence of an object.");
        yield return new($"It rests on a speed of sound in the sediment of {Numbers.Fixed(result.Survey.Sediment.SoundSpeed, 0)} m/s: 1 % too slow a speed puts a thing 1 % too shallow.", "Burial is measured by sound.");
        if (result.Survey.Calibration is null)
            yield return new("No calibration was given: strengths are relative to the seabed’s own echo, and target strengths are not stated.", "Echoes are not calibrated.");
    }

    private static IEnumerable<(string, string)> Facts(SurveyResult result)
    {
        Survey survey = result.Survey;
        yield return ("Survey", survey.Name);
        yield return ("Pings", $"{result.Lines.Sum(l => l.Quality.Pings)} recorded, {result.Lines.Sum(l => l.Quality.PingsUsed)} used; {Contents.Dates(result)}");
        yield return ("Reference system", $"EPSG:{survey.Epsg}; eastings and northings in metres; depths and burials in metres, downwards");
        yield return ("Voxels", $"{Numbers.Given(result.Grid.Spacing)} m; {result.Grid.CountX} × {result.Grid.CountY} columns, {result.Grid.CountZ} levels from {Numbers.Fixed(result.Grid.FirstBurial, 2)} m of burial");
        yield return ("Water", $"sound speed {Numbers.Fixed(survey.Water.SoundSpeed, 1)} m/s, density {Numbers.Fixed(survey.Water.Density, 0)} kg/m³");
        yield return ("Sediment", $"{survey.Sediment.Name}: sound speed {Numbers.Fixed(survey.Sediment.SoundSpeed, 0)} m/s, density {Numbers.Fixed(survey.Sediment.Density, 0)} kg/m³, attenuation {Numbers.Given(survey.Sediment.AttenuationDbPerMetrePerKhz)} dB/m/kHz");
        if (survey.Waveform is Waveform w)
            yield return ("Waveform", $"linear chirp, {Numbers.Given(w.StartFrequency / 1000)} to {Numbers.Given(w.EndFrequency / 1000)} kHz in {Numbers.Given(w.Duration * 1000)} ms");
        yield return ("Calibration", survey.Calibration is Calibration c
            ? $"{Numbers.Given(c.SourcePressureAt1Metre)} Pa at 1 m, {Numbers.Given(c.PascalPerUnit)} Pa per unit, ± {Numbers.Given(c.UncertaintyDb)} dB, {(c.Date is NodaTime.LocalDate d ? NodaTime.Text.LocalDatePattern.Iso.Format(d) : "date not stated")}"
            : "none");
    }
}
