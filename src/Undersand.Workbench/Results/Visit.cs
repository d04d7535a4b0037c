namespace Undersand.Workbench.Results;

/// <summary>What one visit is to: a target, or all that a person takes for one thing with it.</summary>
/// <param name="Targets">What isn't rejected first, then the most probable first.</param>
internal sealed record Visit(IReadOnlyList<Target> Targets)
{
    /// <summary>The one that stands for all.</summary>
    public Target Lead => Targets[0];

    /// <summary>The place amid them.</summary>
    public GridPoint Middle => new(Targets.Average(t => t.Position.Easting), Targets.Average(t => t.Position.Northing), Lead.Position.Depth);

    /// <summary>Metres from ring to ring in a sketch whose fourth takes all of them in: 1, 2, 5, 10 and so on.</summary>
    public int Ring => new[] { 1, 2, 5, 10, 20, 50 }.First(r => r == 50 || Targets.All(t => t.Position.HorizontalDistanceTo(Middle) <= 4 * r));

    /// <summary>The visit that a target is part of.</summary>
    public static Visit Of(Target target, OpenedResults results, JudgementDesk desk)
    {
        IReadOnlyList<string> group = desk.Judged.Group(target.Id);
        return new([.. results.Targets.Where(t => group.Contains(t.Id)).OrderBy(desk.Rejects)]);
    }

    /// <summary>All visits: by priority, then by probability; last those of which everything was rejected.</summary>
    public static IEnumerable<Visit> InOrder(OpenedResults results, JudgementDesk desk) =>
        results.Targets.Select(t => Of(t, results, desk)).DistinctBy(v => v.Lead.Id).OrderBy(v => desk.Rejects(v.Lead)).ThenBy(v => v.Priority(desk) ?? 9);

    /// <summary>The first of the priorities given; null where none was.</summary>
    public int? Priority(JudgementDesk desk) => Targets.Min(t => desk.Of(t.Id)?.Priority);

    /// <summary>“Target 3”, “Targets 3, 7”.</summary>
    public string Title(OpenedResults results) => $"{(Targets.Count > 1 ? "Targets" : "Target")} {string.Join(", ", Targets.Select(t => results.NumberOf(t.Id)))}";
}
