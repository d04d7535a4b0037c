using System.Globalization;
using NodaTime;

namespace Undersand.Workbench.Results;

/// <summary>What one person laid at one time: a stretch, or several that meet.</summary>
internal sealed record LaidSeabed(string Line, string Who, Instant When, IReadOnlyList<SeabedStretch> Stretches)
{
    public static IReadOnlyList<LaidSeabed> Of(IEnumerable<SeabedStretch> stretches) =>
        [.. stretches.GroupBy(s => (s.Line, s.Who, s.When)).Select(g => new LaidSeabed(g.Key.Line, g.Key.Who, g.Key.When, [.. g]))];

    public SeabedStretch First => Stretches[0];

    public SeabedStretch Last => Stretches[^1];

    /// <summary>From where to where: “pings 20 to 60, 5.95 m to 6.10 m”.</summary>
    public string Extent => $"{(First.FirstPing == Last.LastPing ? "ping" : $"pings {First.FirstPing} to")} {Last.LastPing}, {DepthsIn(LengthUnit.Metre)}{(Stretches.Count > 1 ? $" over {Stretches.Count + 1} places" : "")}";

    /// <summary>The same, with who and when.</summary>
    public string Words => $"{Extent}, laid by {Who}, {When.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture)}";

    /// <summary>From how deep to how deep, below the surface.</summary>
    public string DepthsIn(LengthUnit unit) => First.FirstPing == Last.LastPing ? unit.Write(First.FirstDepth, 2) : $"{unit.Write(First.FirstDepth, 2)} to {unit.Write(Last.LastDepth, 2)}";

    /// <summary>Whether a ping of the one is the other's too.</summary>
    public bool Overlaps(LaidSeabed other) => Line == other.Line && First.FirstPing <= other.Last.LastPing && other.First.FirstPing <= Last.LastPing;
}
