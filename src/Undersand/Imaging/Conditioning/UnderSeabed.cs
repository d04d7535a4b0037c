namespace Undersand.Imaging.Conditioning;

/// <summary>Tells receivers whose recorded place lies under the seabed, where the search below them found no seabed, or a wrong one.</summary>
internal static class UnderSeabed
{
    /// <summary>Metres that no receiver lies below the source on one vehicle. Our own choice, no source.</summary>
    private const double Unlikely = 0.5;

    /// <summary>Crosstalk within the instrument is there at once and needs no path, seconds. Our own choice, no source.</summary>
    private const double Crosstalk = 0.3e-3;

    private const string Mend = "check the elevations and their scalar (bytes 41–44, 69–70), or the lever arms in array.json";

    /// <summary>No seabed was found: the fault of the deepest receiver's place, or null.</summary>
    public static SurveyException? Explain(ISurveyLine line)
    {
        var (ping, receiver) = Enumerable.Range(0, line.PingCount).Select(line.PingAt)
            .SelectMany(p => p.Receivers.Where(r => r.Live), (p, r) => (Ping: p, Receiver: r)).MaxBy(a => Below(a.Ping, a.Receiver));
        return ping is null || Below(ping, receiver) < Unlikely ? null : new SurveyException(line.Name, $"ping {ping.Number}, receiver {receiver.Number}",
            $"the receiver lies {Below(ping, receiver):0.00} m below the source, and no seabed was found below it, so it lies under the seabed", Mend);
    }

    /// <summary>Whether a receiver far below the source heard something much louder than the seabed before sound can have come to it.</summary>
    public static bool HeardTooEarly(SeabedSearch search, Ping ping, int r, float[] pulses, double pulseWidth, double seabed)
    {
        if (Below(ping, ping.Receivers[r]) < Unlikely)
            return false;
        double half = 0.5 * (search.DirectTime(ping, r) - 2 * pulseWidth - Crosstalk);
        return half > 0 && search.PickNear(ping, pulses, Crosstalk + half, half, 0).Amplitude > 2 * seabed;
    }

    /// <exception cref="SurveyException">Most pings were heard too early, or a receiver lies below the seabed that was found.</exception>
    public static void Refuse(LineScan scan, double lowest)
    {
        ISurveyLine line = scan.Reader.Line;
        if (scan.TooEarly.AsSpan().Count(true) > 0.5 * scan.TooEarly.Length)
            throw new SurveyException(line.Name, $"ping {line.PingAt(Array.IndexOf(scan.TooEarly, true)).Number}", "the loudest echo arrives before sound can have come from the source to the receivers, so they lie under the seabed", Mend);
        for (int p = 0; p < scan.SeabedDepth.Length; p++)
            foreach (var receiver in line.PingAt(p).Receivers)
                if (receiver.Position.Depth > scan.SeabedDepth[p] - lowest)
                    throw new SurveyException(line.Name, $"ping {line.PingAt(p).Number}, receiver {receiver.Number}", $"the receiver lies {receiver.Position.Depth - scan.SeabedDepth[p]:0.00} m under the seabed", Mend);
    }

    private static double Below(Ping ping, Receiver receiver) => receiver.Position.Depth - ping.Source.Depth;
}
