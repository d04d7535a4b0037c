using System.Collections.Concurrent;

namespace Undersand.Runs.Processing;

/// <summary>The seabeds that tiles were imaged under, by fingerprint: from run to run in one program, so that a run can tell how far a seabed has moved since.</summary>
internal sealed class SeabedMemory
{
    private readonly ConcurrentDictionary<string, float[]> _depths = new();

    /// <summary>Keeps one, as depths in places of a tile.</summary>
    public void Keep(string print, float[] depths) => _depths[print] = depths;

    /// <summary>How far a seabed lies from the one with a fingerprint at most, metres; infinitely, where that one isn't known.</summary>
    public double MovedSince(string print, float[] depths) =>
        _depths.TryGetValue(print, out float[]? before) && before.Length == depths.Length ? before.Zip(depths, (b, d) => Math.Abs(b - d)).Max() : double.PositiveInfinity;

    /// <summary>Forgets all but these.</summary>
    public void KeepOnly(IReadOnlySet<string> prints)
    {
        foreach (string print in _depths.Keys.Where(p => !prints.Contains(p)))
            _depths.TryRemove(print, out _);
    }
}
