namespace Undersand.Runs.Processing;

/// <summary>What of a line's quality the reader of the report must know.</summary>
internal static class LineCautions
{
    public static IEnumerable<Caution> Of(LineQuality line)
    {
        if (line.DeadReceivers.Count > 0)
            yield return new(line.Name, $"Dead or silent receivers were left out: {string.Join(", ", line.DeadReceivers)}.", line.DeadReceivers.Count);
        if (line.DropOuts > 0)
            yield return new(line.Name, "Traces without signal were left out.", line.DropOuts);
        if (line.ClippedTraces > 0)
            yield return new(line.Name, "Traces hold samples at the recorder's limit; those with many were left out, and amplitudes near the others are too low.", line.ClippedTraces);
        if (line.Bursts > 0)
            yield return new(line.Name, "Pings with a burst of another sound were left out.", line.Bursts);
        if (line.TonesRemoved.Count > 0)
            yield return new(line.Name, $"Steady tones were removed, at {string.Join(", ", line.TonesRemoved.Select(f => $"{f:0} Hz"))}.", line.TonesRemoved.Count);
        if (line.SeabedBridged > 0)
            yield return new(line.Name, "Pings whose seabed echo was not found took the seabed from their neighbours.", line.SeabedBridged);
        int lost = line.Pings - line.PingsUsed - line.Bursts;
        if (lost > 0)
            yield return new(line.Name, "Pings could not be used: no seabed, or no good trace.", lost);
    }
}
