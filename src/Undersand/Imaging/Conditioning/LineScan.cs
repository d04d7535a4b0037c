namespace Undersand.Imaging.Conditioning;

/// <summary>What one pass over a line's recordings found: which traces are good, how noisy they are, and where the seabed is. Frozen before imaging.</summary>
/// <remarks>Arrays over traces are addressed by <c>pingIndex * Receivers + receiverIndex</c>.</remarks>
public sealed class LineScan
{
    internal LineScan(LineReader reader)
    {
        Reader = reader;
        Receivers = Enumerable.Range(0, reader.Line.PingCount).Max(p => reader.Line.PingAt(p).Receivers.Count);
        Channels = new Channels(reader.Line);
        int n = reader.Line.PingCount;
        States = new TraceState[n * Receivers];
        SeabedTimes = new float[n * Receivers];
        SeabedDepth = new double[n];
        SeabedSnr = new float[n];
        SeabedAmplitude = new float[n];
        Along = new double[n];
        TooEarly = new bool[n];
    }

    /// <summary>Reads the line's pings.</summary>
    public LineReader Reader { get; private set; }
    /// <summary>The greatest number of receivers of a ping.</summary>
    public int Receivers { get; }
    /// <summary>The receivers by their numbers.</summary>
    internal Channels Channels { get; }
    /// <summary>What became of each trace.</summary>
    public TraceState[] States { get; }
    /// <summary>Time of the seabed's echo in each trace, seconds from transmission; NaN where not found.</summary>
    public float[] SeabedTimes { get; }
    /// <summary>Depth of the seabed under each ping, below the water surface; NaN where not found.</summary>
    public double[] SeabedDepth { get; }
    /// <summary>Whether that depth was bridged from neighbours.</summary>
    public HashSet<int> Bridged { get; } = [];
    /// <summary>Seabed echo over noise in each ping, dB; NaN where not found.</summary>
    public float[] SeabedSnr { get; }
    /// <summary>Median amplitude of the seabed's echo in each ping, in the reader's unit; NaN where not found.</summary>
    public float[] SeabedAmplitude { get; }
    /// <summary>Pings whose loudest echo came before the direct arrival could.</summary>
    internal bool[] TooEarly { get; }
    /// <summary>Distance along the track of each ping, metres.</summary>
    public double[] Along { get; }
    /// <summary>Root mean square of |pulse| where only noise was received, in the reader's unit.</summary>
    public double Noise { get; internal set; }
    /// <summary>The same in units of the recording.</summary>
    public double RecordedNoise { get; internal set; }
    /// <summary>Numbers of the receivers left out as dead.</summary>
    public IReadOnlyList<int> DeadReceivers { get; internal set; } = [];
    /// <summary>Traces with at least one run of samples at the recording's limit.</summary>
    public int ClippedTraces { get; internal set; }
    /// <summary>Pings left out because of a burst.</summary>
    public int BurstPings { get; internal set; }
    /// <summary>Traces left out as silent.</summary>
    public int DropOuts { get; internal set; }

    /// <summary>The same scan, over the same recording opened again.</summary>
    internal LineScan Over(LineReader reader)
    {
        var same = (LineScan)MemberwiseClone();
        same.Reader = reader;
        return same;
    }

    /// <summary>Whether a ping has a seabed and at least one good trace.</summary>
    public bool IsUsable(int pingIndex)
    {
        if (double.IsNaN(SeabedDepth[pingIndex]))
            return false;
        for (int r = 0; r < Reader.Line.PingAt(pingIndex).Receivers.Count; r++)
            if (States[pingIndex * Receivers + r] == TraceState.Good)
                return true;
        return false;
    }

    /// <summary>The line's quality in the reader's words.</summary>
    public LineQuality Quality()
    {
        int n = Reader.Line.PingCount;
        var steps = new double[Math.Max(n - 1, 0)];
        for (int p = 1; p < n; p++)
            steps[p - 1] = Along[p] - Along[p - 1];
        double length = n > 0 ? Along[n - 1] : 0;
        double seconds = n > 1 ? (Reader.Line.PingAt(n - 1).Time - Reader.Line.PingAt(0).Time).TotalSeconds : 0;
        var found = Enumerable.Range(0, n).Where(p => !double.IsNaN(SeabedDepth[p])).ToArray();
        return new LineQuality
        {
            Name = Reader.Line.Name,
            Pings = n,
            PingsUsed = Enumerable.Range(0, n).Count(IsUsable),
            Receivers = Receivers,
            DeadReceivers = DeadReceivers,
            NoiseLevel = RecordedNoise,
            SeabedSnrDb = Signal.Robust.MedianOf(found.Select(p => (double)SeabedSnr[p]).Where(double.IsFinite)),
            MeanHeight = found.Length == 0 ? double.NaN : found.Average(p => SeabedDepth[p] - Reader.Line.PingAt(p).Source.Depth),
            MeanSpeed = seconds > 0 ? length / seconds : null,
            PingSpacing = steps.Length == 0 ? 0 : Signal.Robust.MedianOf(steps),
            Length = length,
            DropOuts = DropOuts,
            ClippedTraces = ClippedTraces,
            Bursts = BurstPings,
            TonesRemoved = Reader.Tones.Select(t => t.CyclesPerSample / Reader.Line.SampleInterval).ToList(),
            SeabedBridged = Bridged.Count,
        };
    }
}
