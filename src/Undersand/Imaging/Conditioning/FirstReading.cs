using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>What the first reading of a line notes of each ping, until the whole line can be judged.</summary>
internal sealed class FirstReading(int pings, int receivers, int profileLength)
{
    private readonly Loudness[] _loudness = new Loudness[pings * receivers];
    private readonly float[][] _profile = new float[pings][];
    private readonly int[] _notFinite = new int[pings];

    /// <summary>Per ping, where its seabed may lie.</summary>
    public SeabedCandidate[][] Candidates { get; } = new SeabedCandidate[pings][];

    /// <summary>Reads one ping.</summary>
    public void Read(int p, LineReader reader, SeabedSearch search)
    {
        var ping = reader.Line.PingAt(p);
        int samples = reader.Line.SampleCount;
        var raw = reader.ReadRaw(p);
        var pulses = new float[]?[ping.Receivers.Count];
        var profiles = new List<float[]>();
        for (int r = 0; r < pulses.Length; r++)
        {
            if (!ping.Receivers[r].Live)
                continue;
            var trace = raw.AsSpan(r * samples, samples);
            var loudness = Loudness.Of(trace);
            if (float.IsNaN(loudness.Level))
            {
                // Said once all are read, so that the first one is named whatever the number of threads.
                _notFinite[p] = ping.Receivers[r].Number;
                break;
            }
            _loudness[p * receivers + r] = loudness;
            if (loudness.Level == 0)
                continue;
            profiles.Add(Profile(trace));
            pulses[r] = new float[2 * reader.Compressor.SampleCount];
            reader.Compress(trace, ping, r, pulses[r]);
        }
        _profile[p] = MedianOf(profiles);
        Candidates[p] = search.Candidates(ping, pulses);
    }

    /// <summary>Judges all traces, once all pings are read.</summary>
    public void Judge(LineScan scan, ConditioningSettings settings)
    {
        var line = scan.Reader.Line;
        if (Array.FindIndex(_notFinite, number => number != 0) is >= 0 and int spoilt)
            throw new SurveyException(line.Name, $"ping {line.PingAt(spoilt).Number}, receiver {_notFinite[spoilt]}", "a sample is not a finite number", "export the recording again, or mark the trace dead (bytes 29–30 = 2)");
        if (Enumerable.Range(0, pings).All(p => line.PingAt(p).Receivers.All(r => !r.Live)))
            throw new SurveyException(line.Name, null, "every trace is marked dead or dummy (bytes 29–30)", "correct the marks, or take the file out of the folder");
        if (_loudness.All(l => l.Level == 0))
            throw new SurveyException(line.Name, null, "every sample is zero", "export the recording again, or take the file out of the folder");
        var byChannel = Traces(scan).ToLookup(t => t.Channel, t => t.Trace);
        MarkDead(scan, byChannel, settings);
        var usual = scan.Channels.Numbers.Select((_, c) => Robust.MedianOf(byChannel[c].Select(i => (double)_loudness[i].Level))).ToArray();
        bool[] clipped = Clipped(byChannel), burst = Enumerable.Range(0, pings).Select(p => IsBurst(p, settings.BurstDb)).ToArray();
        scan.BurstPings = burst.Count(b => b);
        scan.ClippedTraces = clipped.Count(c => c);
        // What most traces suffer from can't be left out; it is counted, and the report says so.
        bool leaveOutClipped = 2 * clipped.Where((c, i) => c && _loudness[i].FlatFraction > settings.ClippedFraction).Count() < _loudness.Count(l => l.Level > 0);
        bool leaveOutBursts = 2 * scan.BurstPings < pings;
        double dropOut = Math.Pow(10, -settings.DropOutDb / 20);
        foreach (var (p, i, channel) in Traces(scan))
        {
            if (scan.States[i] != TraceState.Good)
                continue;
            if (_loudness[i].Level <= dropOut * usual[channel])
                (scan.States[i], scan.DropOuts) = (TraceState.DropOut, scan.DropOuts + 1);
            else if (leaveOutClipped && clipped[i] && _loudness[i].FlatFraction > settings.ClippedFraction)
                scan.States[i] = TraceState.Clipped;
            else if (leaveOutBursts && burst[p])
                scan.States[i] = TraceState.Burst;
        }
    }

    private IEnumerable<(int Ping, int Trace, int Channel)> Traces(LineScan scan)
    {
        for (int p = 0; p < pings; p++)
        {
            var ping = scan.Reader.Line.PingAt(p);
            for (int r = 0; r < ping.Receivers.Count; r++)
                yield return (p, p * receivers + r, scan.Channels.Of(ping, r));
        }
    }

    private void MarkDead(LineScan scan, ILookup<int, int> byChannel, ConditioningSettings settings)
    {
        int[] numbers = scan.Channels.Numbers;
        var level = numbers.Select((_, c) => Robust.MedianOf(byChannel[c].Select(i => (double)_loudness[i].Level).Where(l => l > 0).DefaultIfEmpty(0))).ToArray();
        double usual = Robust.MedianOf(level.Where(l => l > 0)), factor = Math.Pow(10, settings.DeadReceiverDb / 20);
        var silent = level.Select(l => l < usual / factor || l > usual * factor).ToArray();
        var live = new bool[numbers.Length];
        for (int p = 0; p < pings; p++)
        {
            var ping = scan.Reader.Line.PingAt(p);
            for (int r = 0; r < ping.Receivers.Count; r++)
            {
                int channel = scan.Channels.Of(ping, r);
                if (silent[channel] || !ping.Receivers[r].Live)
                    scan.States[p * receivers + r] = TraceState.Dead;
                else
                    live[channel] = true;
            }
        }
        scan.DeadReceivers = numbers.Where((_, c) => !live[c]).ToList();
    }

    /// <summary>The traces that stand flat at the recorder's limit: the greatest or least value that their receiver ever gave.</summary>
    private bool[] Clipped(ILookup<int, int> byChannel)
    {
        var clipped = new bool[_loudness.Length];
        foreach (var traces in byChannel)
        {
            float highest = traces.Max(i => _loudness[i].Highest), lowest = traces.Min(i => _loudness[i].Lowest);
            foreach (int i in traces)
                clipped[i] = _loudness[i].FlatFraction > 0 && (_loudness[i].Highest == highest || _loudness[i].Lowest == lowest);
        }
        return clipped;
    }

    /// <summary>A burst stands out over the neighbouring pings at about the same time; echoes don't, they continue.</summary>
    private bool IsBurst(int p, double thresholdDb)
    {
        const int reach = 4;
        float[] own = _profile[p];
        // A ping in which nothing was heard is no measure of what is usual.
        var neighbours = Enumerable.Range(Math.Max(0, p - reach), Math.Min(pings, p + reach + 1) - Math.Max(0, p - reach))
            .Where(q => q != p && _profile[q].Length == own.Length && _profile[q].Length > 0).Select(q => _profile[q]).ToArray();
        if (own.Length == 0 || neighbours.Length < 4)
            return false;
        float factor = (float)Math.Pow(10, thresholdDb / 10);
        var around = new float[neighbours.Length];
        for (int i = 0; i < own.Length; i++)
        {
            for (int q = 0; q < around.Length; q++)
            {
                around[q] = 0;
                for (int j = Math.Max(0, i - 1); j <= Math.Min(own.Length - 1, i + 1); j++)
                    around[q] = Math.Max(around[q], neighbours[q][j]);
            }
            // The middle of the neighbours: neither a second burst near by nor lost pings decide.
            if (own[i] > 0 && own[i] > factor * Robust.Middle(around))
                return true;
        }
        return false;
    }

    private float[] Profile(ReadOnlySpan<float> trace)
    {
        var profile = new float[profileLength];
        double mean = 0;
        foreach (float x in trace)
            mean += x;
        mean /= trace.Length;
        for (int i = 0; i < profileLength; i++)
        {
            var part = trace[(int)((long)trace.Length * i / profileLength)..(int)((long)trace.Length * (i + 1) / profileLength)];
            double energy = 0;
            foreach (float x in part)
                energy += (x - mean) * (x - mean);
            profile[i] = part.Length == 0 ? 0 : (float)(energy / part.Length);
        }
        return profile;
    }

    private float[] MedianOf(List<float[]> profiles)
    {
        if (profiles.Count == 0)
            return [];
        var median = new float[profileLength];
        var values = new float[profiles.Count];
        for (int i = 0; i < profileLength; i++)
        {
            for (int r = 0; r < values.Length; r++)
                values[r] = profiles[r][i];
            median[i] = Robust.Middle(values);
        }
        return median;
    }
}
