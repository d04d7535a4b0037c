namespace Undersand.Runs.Reporting;

/// <summary>What people said about targets, in words.</summary>
internal static class SayingWords
{
    public static string Of(Verdict verdict) => verdict switch
    {
        Verdict.Accept => "accepted",
        Verdict.Doubt => "in doubt",
        _ => "rejected",
    };

    public static string Of(int priority) => priority switch { 1 => "first", 2 => "next", _ => "last" };

    public static string Of(Saying said) => said switch
    {
        Judgement j => Joined(j.Opinion == Opinion.Second ? "second opinion" : j.Opinion == Opinion.Agreed ? "decided" : null, j.Verdict is { } v ? Of(v) : null, j.Priority is { } p ? $"visit {Of(p)}" : null, j.Note.Length > 0 ? $"“{j.Note}”" : null),
        Merger m => m.IsEmpty ? "not one thing with others after all" : $"one thing with {m.Others.Count} more",
        Partition p => p.IsEmpty ? "one thing after all" : $"{p.Parts.Count} things",
        HandOutline o => o.IsEmpty ? "outline taken away" : $"outline by hand, {Numbers.Fixed(o.Area, 2)} m²",
        HandMeasure m => m.IsEmpty ? "measures taken away" : "measured by hand: " + Measures(m),
        Photograph p => p.IsRemoved ? "photograph taken off" : $"photograph{(p.Caption.Length > 0 ? $" “{p.Caption}”" : "")}{(p.IsPublic ? ", for the public too" : "")}",
        Succession => "taken over from a target that is gone",
        PublicWords => "the public version's title and contact",
        _ => "a blind round",
    };

    public static string Measures(HandMeasure m) => Joined(Sizes(m, Numbers.Given, "m"), m.Source.Length > 0 ? m.Source : null);

    /// <summary>What was measured, without how; null where nothing was.</summary>
    /// <param name="m">What someone measured.</param>
    /// <param name="number">Writes a length.</param>
    /// <param name="unit">What it is in then.</param>
    public static string? Sizes(HandMeasure m, Func<double, string> number, string unit)
    {
        double?[] size = [m.Length, m.Width, m.Thickness];
        string? across = size.All(d => d is null) ? null : $"{string.Join(" × ", size.Select(d => d is double v ? number(v) : "?"))} {unit}";
        string? down = m.Burial is double b ? $"burial {number(b)} {unit}" : null;
        return across is null && down is null ? null : Joined(across, down);
    }

    /// <summary>How people grouped a target: which others are one thing with it, and into how many it was split.</summary>
    /// <param name="judged">What people said.</param>
    /// <param name="id">The target.</param>
    /// <param name="number">What another target is called; null where it is not to be named.</param>
    /// <param name="withPlaces">Whether to say where the parts lie.</param>
    public static IEnumerable<string> Grouping(JudgedSurvey judged, string id, Func<string, string?> number, bool withPlaces = false)
    {
        string[] others = [.. judged.Group(id).Where(o => o != id).Select(number).OfType<string>()];
        if (others.Length > 0)
            yield return "one with " + string.Join(", ", others);
        foreach (Partition p in judged.Of<Partition>(id))
            yield return $"{p.Parts.Count} things" + (withPlaces ? ", at " + string.Join(" and ", p.Parts.Select(x => $"{Numbers.Fixed(x.Easting, 2)}, {Numbers.Fixed(x.Northing, 2)}")) : "");
    }

    private static string Joined(params string?[] words) => words.Any(w => w is not null) ? string.Join(", ", words.Where(w => w is not null)) : "nothing said";
}
