namespace Undersand.Runs.Reporting;

/// <summary>The targets as tables: where, and what.</summary>
internal static class TargetTables
{
    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        yield return new Heading(1, "Targets", "targets");
        if (result.Targets.Count == 0)
        {
            yield return new Paragraph("No target was found. See “What could not have been seen” before drawing any conclusion from that.");
            yield break;
        }
        yield return new Paragraph("Most probable first. An uncertainty is one standard deviation; it holds navigation, timing, sound speed, seabed and blur. The files targets.geojson, targets.csv and survey.gpkg hold the same with longitude and latitude. A number belongs to this report only; an id stays with its target when the survey is processed again.");
        yield return Where(result);
        yield return What(result);
        yield return Materials(result);
        Paragraph[] notes = [.. result.Targets.Index().SelectMany(t => t.Item.Notes.Select(n => new Paragraph(n, $"Target {t.Index + 1}.")))];
        if (notes.Length == 0)
            yield break;
        yield return new Heading(2, "Reservations about single targets", "target-notes");
        yield return new Items(notes);
    }

    /// <summary>Which way its long axis lies; null where that is not resolved.</summary>
    public static string? LongAxis(Target t) => t.Azimuth is { } a ? $"{Numbers.Fixed(a.Degrees, 0)}°" : null;

    /// <summary>Length, width and thickness as far as resolved.</summary>
    /// <param name="t">The target.</param>
    /// <param name="unit">Metres to the unit they are written in.</param>
    /// <param name="name">The unit, behind them.</param>
    public static string Size(Target t, double unit = 1, string name = "")
    {
        if (t.Length is null && t.Width is null && t.Thickness is null)
            return "not resolved";
        return string.Join(" × ", new[] { t.Length, t.Width, t.Thickness }.Select(v => v is double d ? Numbers.Fixed(d / unit, 2) : "?")) + (name.Length > 0 ? " " + name : "");
    }

    public static string Strength(Target t)
    {
        var parts = new List<string>();
        if (t.TargetStrengthDb is double ts)
            parts.Add($"{Numbers.Fixed(ts, 0)} dB re 1 m²");
        if (t.ReflectionCoefficient is double r)
            parts.Add($"R {Numbers.Signed(r, 2)}");
        if (t.ReflectionRelativeToSeabed is double s)
            parts.Add($"{Numbers.Signed(s, 1)} × seabed");
        return parts.Count == 0 ? "not known" : string.Join(", ", parts);
    }

    public static string MaterialName(Material m) => m.ToString().ToLowerInvariant();

    /// <summary>How far a named material may be trusted.</summary>
    public const string MaterialTrust = "not calibrated; often wrong";

    /// <summary>The classes worth naming, most probable first.</summary>
    public static string MaterialWords(Target t) => t.MaterialProbabilities.Count == 0
        ? "not known"
        : string.Join(", ", t.MaterialProbabilities.OrderByDescending(m => m.Value).ThenBy(m => m.Key).Where((m, i) => i == 0 || m.Value >= 0.1).Take(3).Select(m => $"{MaterialName(m.Key)} {Numbers.Probability(m.Value)}"));

    private static Table Where(SurveyResult result)
    {
        Column[] columns = [new("No."), new("Id"), new("Easting", "m", true), new("Northing", "m", true), new("± horizontal", "m", true), new("Ellipse", "m, m, azimuth"), new("Burial of top", "m", true), new("Depth of top", "m", true), new("Other place", "easting, northing, m")];
        return new("Where the targets lie", columns, [.. result.Targets.Select((t, i) => (IReadOnlyList<string>)Row(t, i))]);
    }

    private static string[] Row(Target t, int i)
    {
        int decimals = Numbers.Decimals(t.HorizontalSd, 2), small = Math.Max(decimals, 2);
        return
        [
            $"{i + 1}", t.Id, Numbers.Fixed(t.Position.Easting, decimals), Numbers.Fixed(t.Position.Northing, decimals),
            Numbers.Fixed(t.HorizontalSd, Numbers.Decimals(t.HorizontalSd, 3)),
            $"{Numbers.Fixed(t.EllipseMajor, small)}, {Numbers.Fixed(t.EllipseMinor, small)}, {Numbers.Fixed(t.EllipseAzimuth.Degrees, 0)}°",
            Numbers.WithSd(t.BurialDepth), Numbers.Fixed(t.Position.Depth, Numbers.Decimals(t.BurialDepth.StandardDeviation, 2)),
            t.Alternative is GridPoint a ? $"{Numbers.Fixed(a.Easting, decimals)}, {Numbers.Fixed(a.Northing, decimals)}" : "–",
        ];
    }

    private static Table What(SurveyResult result)
    {
        Column[] columns = [new("No."), new("Probability", "not calibrated", true), new("Bayes factor", "log10", true), new("Size", "length × width × thickness, m"), new("Strength and polarity", "sign: + as hard, − as soft"), new("Lines", "", true), new("Looks", "", true), new("Long axis", "azimuth", true)];
        return new("What was measured of them", columns, [.. result.Targets.Select((t, i) => (IReadOnlyList<string>)
        [
            $"{i + 1}", Numbers.Probability(t.Probability.Value), Numbers.Signed(t.LogBayesFactor / Math.Log(10), 1), Size(t), Strength(t), $"{t.LinesSeen}", $"{t.Looks}", LongAxis(t) ?? "–",
        ])]);
    }

    private static Table Materials(SurveyResult result)
    {
        Material[] classes = Enum.GetValues<Material>();
        Column[] columns = [new("No."), new("Most probable"), .. classes.Select(m => new Column(MaterialName(m), "", true))];
        return new($"What they may be made of ({MaterialTrust}): probabilities of the classes, given that a body is there", columns, [.. result.Targets.Select((t, i) => (IReadOnlyList<string>)
        [
            $"{i + 1}", t.MaterialProbabilities.Count == 0 ? "not known" : MaterialName(t.Material), .. classes.Select(m => t.MaterialProbabilities.TryGetValue(m, out double p) ? Numbers.Probability(p) : "–"),
        ])]);
    }
}
