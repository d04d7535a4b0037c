namespace Undersand.Runs.Reporting;

/// <summary>What was found where someone looked, in words.</summary>
internal static class FindWords
{
    public static string Number(int index) => $"F{index + 1}";

    public static string What(Outcome o) => o.Kind.ToString().ToLowerInvariant() + (o.Material.Length > 0 ? $" ({o.Material})" : "");

    public static string Of(Outcome o) => $"{What(o)} to {Numbers.Given(o.ReachedDepth)} m";

    /// <summary>A size in nT.</summary>
    public static string Field(double nanotesla) => Numbers.Fixed(nanotesla, nanotesla < 9.95 ? 1 : 0);

    /// <summary>In how many places what was found; nothing that names a place.</summary>
    public static string Counts(IReadOnlyList<Outcome> finds)
    {
        (OutcomeKind Kind, string Words)[] kinds = [(OutcomeKind.Object, "a thing made by people"), (OutcomeKind.Natural, "something natural"), (OutcomeKind.Nothing, "nothing")];
        var found = kinds.Select(k => (k.Words, Count: finds.Count(o => o.Kind == k.Kind))).Where(k => k.Count > 0).Select(k => $"{k.Words} was found in {k.Count}");
        return $"{Numbers.Count(finds.Count, "place was", "places were")} searched by people: {string.Join(", ", found)}.";
    }
}
