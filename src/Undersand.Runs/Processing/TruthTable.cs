using Undersand.Simulation;

namespace Undersand.Runs.Processing;

/// <summary>Sets what is really there beside what was found, for people.</summary>
internal static class TruthTable
{
    /// <summary>Beyond this a target is not taken for a thing: metres from its outline, and in burial beyond its thickness.</summary>
    private const double Near = 0.4, NearInBurial = 0.3;

    public static IEnumerable<string> Lines(Truth truth, SurveyResult result)
    {
        yield return $"{"what is really there",-28} {"burial m",8}   {"found: probability",-19} {"burial m",-12} {"off by m",-8}";
        var left = result.Targets.ToList();
        var things = truth.Objects.OrderBy(o => o.IsDecoy).ThenBy(o => o.BurialOfTop).ToList();
        foreach (var thing in things)
        {
            var own = left.Where(t => Belongs(t, thing)).ToList();
            left.RemoveAll(own.Contains);
            string name = (thing.IsDecoy ? "decoy: " : "") + thing.Name;
            string more = own.Count > 1 ? $"   in {own.Count} pieces" : "";
            yield return $"{name,-28} {thing.BurialOfTop,8:0.00}   " + (own.MaxBy(t => t.Probability.LogOdds) is { } best
                ? $"{best.Probability.Value,-19:0.00} {Burial(best),-12} {OffOutline(best.Position, thing):0.00}{more}" : "–");
        }
        foreach (var target in left)
            yield return $"{"nothing of the truth",-28} {"",8}   {target.Probability.Value,-19:0.00} {Burial(target),-12}";
    }

    private static bool Belongs(Target target, TrueObject thing) =>
        OffOutline(target.Position, thing) <= Near
        && target.BurialDepth.Value >= thing.BurialOfTop - NearInBurial && target.BurialDepth.Value <= thing.BurialOfTop + thing.Thickness + NearInBurial;

    private static string Burial(Target target) => $"{target.BurialDepth.Value:0.00} ± {target.BurialDepth.StandardDeviation:0.00}";

    /// <summary>Metres from a place to the thing's outline, a rectangle about its middle: to the middle itself for a thing with no long axis.</summary>
    private static double OffOutline(GridPoint at, TrueObject thing)
    {
        if (thing.Azimuth is not { } azimuth)
            return at.HorizontalDistanceTo(thing.Centre);
        double e = at.Easting - thing.Centre.Easting, n = at.Northing - thing.Centre.Northing, sin = Math.Sin(azimuth.Radians), cos = Math.Cos(azimuth.Radians);
        double along = Math.Max(0, Math.Abs(e * sin + n * cos) - 0.5 * thing.Length), across = Math.Max(0, Math.Abs(e * cos - n * sin) - 0.5 * thing.Width);
        return Math.Sqrt(along * along + across * across);
    }
}
