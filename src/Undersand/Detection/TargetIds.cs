using System.Globalization;

namespace Undersand.Detection;

/// <summary>Names for targets that stay with the same thing.</summary>
public static class TargetIds
{
    /// <summary>Edge of the lattice that new ids are made from, metres.</summary>
    private const double Lattice = 0.25;
    private const string Digits = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    /// <summary>Gives each target an id: that of an earlier target at the same place (within the larger of 0.3 m and two standard deviations), else one made from its position, rounded to a quarter of a metre.</summary>
    /// <param name="targets">In the order in which they choose.</param>
    /// <param name="previous">Targets of an earlier run, or null.</param>
    /// <returns>The same targets with ids, each different.</returns>
    public static IReadOnlyList<Target> Assign(IReadOnlyList<Target> targets, IReadOnlyList<Target>? previous = null)
    {
        var ids = new string?[targets.Count];
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (target, earlier, _) in Pairs(targets, previous ?? []))
            if (ids[target] is null && taken.Add(previous![earlier].Id))
                ids[target] = previous[earlier].Id;
        var known = new HashSet<string>((previous ?? []).Select(p => p.Id), StringComparer.Ordinal);
        for (int i = 0; i < targets.Count; i++)
            ids[i] ??= New(targets[i].Position, taken, known);
        return [.. targets.Select((t, i) => t with { Id = ids[i]! })];
    }

    private static IEnumerable<(int Target, int Previous, double Distance)> Pairs(IReadOnlyList<Target> targets, IReadOnlyList<Target> previous)
    {
        var pairs = new List<(int, int, double Distance)>();
        for (int i = 0; i < targets.Count; i++)
            for (int j = 0; j < previous.Count; j++)
            {
                double horizontal = Apart(targets[i], previous[j]), vertical = Math.Abs(targets[i].BurialDepth.Value - previous[j].BurialDepth.Value);
                double sd = Math.Sqrt(Math.Pow(targets[i].HorizontalSd, 2) + Math.Pow(previous[j].HorizontalSd, 2));
                double verticalSd = Math.Sqrt(Math.Pow(targets[i].BurialDepth.StandardDeviation, 2) + Math.Pow(previous[j].BurialDepth.StandardDeviation, 2));
                if (horizontal <= Math.Max(0.3, 2 * sd) && vertical <= Math.Max(0.3, 3 * verticalSd))
                    pairs.Add((i, j, horizontal + 0.5 * vertical));
            }
        return pairs.OrderBy(p => p.Distance).ThenBy(p => p.Item1).ThenBy(p => p.Item2);
    }

    // A target on an arc may earlier have been shown on the other side of the track.
    private static double Apart(Target a, Target b)
    {
        double apart = a.Position.HorizontalDistanceTo(b.Position);
        if (a.Alternative is { } mirrored)
            apart = Math.Min(apart, mirrored.HorizontalDistanceTo(b.Position));
        return b.Alternative is { } other ? Math.Min(apart, other.HorizontalDistanceTo(a.Position)) : apart;
    }

    private static string New(GridPoint position, HashSet<string> taken, HashSet<string> known)
    {
        string id = "T-" + Base32((long)Math.Round(position.Easting / Lattice)) + "-" + Base32((long)Math.Round(position.Northing / Lattice));
        string result = id;
        for (int n = 2; known.Contains(result) || !taken.Add(result); n++)
            result = id + "-" + n.ToString(CultureInfo.InvariantCulture);
        return result;
    }

    private static string Base32(long value)
    {
        if (value < 0)
            return "M" + Base32(-value);
        string text = "";
        do
        {
            text = Digits[(int)(value % 32)] + text;
            value /= 32;
        }
        while (value > 0);
        return text;
    }
}
