using Undersand.Imaging.Conditioning;

namespace Undersand.Runs.Processing;

/// <summary>What of a line's quality the reader of the report must know.</summary>
internal static class LineCautions
{
    /// <summary>Pings farther apart than so many usual spacings, and than so many metres, leave a gap. Common practice, no source.</summary>
    private const double LongSpacings = 4, LongMetres = 0.5;

    public static IEnumerable<Caution> Of(LineScan scan) => [.. Of(scan.Quality()), .. Gaps(scan)];

    private static IEnumerable<Caution> Of(LineQuality line)
    {
        if (line.DeadReceivers.Count > 0)
            yield return new(line.Name, $"Dead or silent receivers were left out: {string.Join(", ", line.DeadReceivers)}.", line.DeadReceivers.Count);
        if (line.DropOuts > 0)
            yield return new(line.Name, "Traces without signal were left out.", line.DropOuts);
        if (line.ClippedTraces > 0)
            yield return new(line.Name, "Traces hold samples at the recorder's limit: those with many were left out unless most of the line is so, and amplitudes from the others are too low.", line.ClippedTraces);
        if (line.Bursts > 0)
            yield return new(line.Name, "Pings with a burst of another sound were left out, unless most of the line is so.", line.Bursts);
        if (line.TonesRemoved.Count > 0)
            yield return new(line.Name, $"Steady tones were removed, at {string.Join(", ", line.TonesRemoved.Select(f => $"{f:0} Hz"))}.", line.TonesRemoved.Count);
        if (line.SeabedBridged > 0)
            yield return new(line.Name, "Pings whose seabed echo was not found took the seabed from their neighbours or were left out.", line.SeabedBridged);
        int lost = line.Pings - line.PingsUsed - line.Bursts;
        if (lost > 0)
            yield return new(line.Name, "Pings could not be used: no seabed, or no good trace.", lost);
    }
    /// <summary>Pings that the recording doesn't have: by their numbers, and by the distance between its neighbours.</summary>
    private static IEnumerable<Caution> Gaps(LineScan scan)
    {
        ISurveyLine line = scan.Reader.Line;
        if (line.PingCount < 3)
            yield break;
        int[] steps = [.. Enumerable.Range(1, line.PingCount - 1).Select(p => line.PingAt(p).Number - line.PingAt(p - 1).Number)];
        // Some recorders count by twos, or by receivers: the smallest step is the usual one.
        int usual = steps.Min(), missing = usual > 0 ? steps.Sum(s => s / usual - 1) : 0;
        if (missing > 0)
            yield return new(line.Name, $"Ping numbers are missing between {line.PingAt(0).Number} and {line.PingAt(line.PingCount - 1).Number}; the pings that are there were used.", missing);
        double[] metres = [.. Enumerable.Range(1, line.PingCount - 1).Select(p => scan.Along[p] - scan.Along[p - 1])];
        double far = Math.Max(LongMetres, LongSpacings * metres.Order().ElementAt(metres.Length / 2));
        if (metres.Count(m => m > far) is > 0 and var gaps)
            yield return new(line.Name, $"There are gaps along the track of up to {metres.Max():0.0} m without pings; what lies there was seen from a side at best.", gaps);
    }
}
