using Undersand.Simulation;

namespace Undersand.Runs.Processing;

/// <summary>Sets what is really there beside what was found, for people.</summary>
internal static class TruthTable
{
    /// <summary>Beyond this a target is not taken for a thing, metres horizontally (plus half the thing's length) and in burial.</summary>
    private const double Near = 0.4, NearInBurial = 0.35;

    public static IEnumerable<string> Lines(Truth truth, SurveyResult result)
    {
        yield return $"{"what is really there",-34} {"burial m",8}   {"found: probability",-18} {"burial m",-14} {"off by m",-8}";
        var left = result.Targets.ToList();
        foreach (var thing in truth.Objects.OrderBy(o => o.IsDecoy).ThenBy(o => o.BurialOfTop))
        {
            var target = left.Where(t => Distance(t, thing) <= Near + 0.5 * thing.Length && Math.Abs(t.BurialDepth.Value - thing.BurialOfTop) <= NearInBurial).MinBy(t => Distance(t, thing));
            if (target is not null)
                left.Remove(target);
            string name = (thing.IsDecoy ? "decoy: " : "") + thing.Name;
            yield return $"{name,-34} {thing.BurialOfTop,8:0.00}   " + (target is null ? "–" : $"{target.Probability.Value,-18:0.00} {$"{target.BurialDepth.Value:0.00} ± {target.BurialDepth.StandardDeviation:0.00}",-14} {Distance(target, thing):0.00}");
        }
        foreach (var target in left)
            yield return $"{"nothing of the truth",-34} {"",8}   {target.Probability.Value,-18:0.00} {$"{target.BurialDepth.Value:0.00} ± {target.BurialDepth.StandardDeviation:0.00}",-14}";
    }

    private static double Distance(Target target, TrueObject thing) => target.Position.HorizontalDistanceTo(thing.Centre);
}
