using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>What the first reading of a line notes of each ping, until the whole line can be judged.</summary>
internal sealed class FirstReading(int pings, int receivers, int profileLength)
{
    private readonly float[] _level = new float[pings * receivers];
    private readonly float[] _clipped = new float[pings * receivers];
    private readonly float[][] _profile = new float[pings][];

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
            var trace = raw.AsSpan(r * samples, samples);
            int i = p * receivers + r;
            (_level[i], _clipped[i]) = LevelAndClipping(trace, reader.Line.Name, ping, r);
            if (!ping.Receivers[r].Live || _level[i] == 0)
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
        if (_level.All(l => l == 0))
            throw new SurveyException(line.Name, null, "every sample is zero", "export the recording again, or take the file out of the folder");
        MarkDead(scan, settings);
        var usual = Enumerable.Range(0, receivers).Select(r => Robust.MedianOf(Levels(r))).ToArray();
        double dropOut = Math.Pow(10, -settings.DropOutDb / 20);
        for (int p = 0; p < pings; p++)
        {
            bool burst = IsBurst(p, settings.BurstDb);
            scan.BurstPings += burst ? 1 : 0;
            for (int r = 0; r < line.PingAt(p).Receivers.Count; r++)
            {
                int i = p * receivers + r;
                scan.ClippedTraces += _clipped[i] > 0 ? 1 : 0;
                if (scan.States[i] != TraceState.Good)
                    continue;
                if (_level[i] <= dropOut * usual[r])
                    (scan.States[i], scan.DropOuts) = (TraceState.DropOut, scan.DropOuts + 1);
                else if (_clipped[i] > settings.ClippedFraction)
                    scan.States[i] = TraceState.Clipped;
                else if (burst)
                    scan.States[i] = TraceState.Burst;
            }
        }
    }

    private IEnumerable<double> Levels(int r)
    {
        for (int p = 0; p < pings; p++)
            yield return _level[p * receivers + r];
    }

    private void MarkDead(LineScan scan, ConditioningSettings settings)
    {
        var line = scan.Reader.Line;
        var level = Enumerable.Range(0, receivers).Select(r => Robust.MedianOf(Levels(r).Where(l => l > 0).DefaultIfEmpty(0))).ToArray();
        double usual = Robust.MedianOf(level), factor = Math.Pow(10, settings.DeadReceiverDb / 20);
        var dead = new SortedSet<int>();
        for (int p = 0; p < pings; p++)
        {
            var ping = line.PingAt(p);
            for (int r = 0; r < ping.Receivers.Count; r++)
            {
                bool silent = level[r] < usual / factor || level[r] > usual * factor;
                if (!silent && ping.Receivers[r].Live)
                    continue;
                scan.States[p * receivers + r] = TraceState.Dead;
                if (silent)
                    dead.Add(ping.Receivers[r].Number);
            }
        }
        for (int r = 0; r < receivers; r++)
            if (Enumerable.Range(0, pings).All(p => r >= line.PingAt(p).Receivers.Count || !line.PingAt(p).Receivers[r].Live))
                dead.Add(line.PingAt(0).Receivers.Count > r ? line.PingAt(0).Receivers[r].Number : r + 1);
        scan.DeadReceivers = dead.ToList();
    }

    /// <summary>A burst stands out over every neighbouring ping at about the same time; echoes don't, they continue.</summary>
    private bool IsBurst(int p, double thresholdDb)
    {
        float[] own = _profile[p];
        if (own.Length == 0 || pings < 5)
            return false;
        double factor = Math.Pow(10, thresholdDb / 10);
        for (int i = 0; i < own.Length; i++)
        {
            double neighbours = 0;
            int counted = 0;
            for (int q = Math.Max(0, p - 3); q <= Math.Min(pings - 1, p + 3); q++)
            {
                // The very next pings may hear the same burst: the quieter side of the neighbourhood decides.
                if (q == p || _profile[q].Length != own.Length)
                    continue;
                double around = 0;
                for (int j = Math.Max(0, i - 1); j <= Math.Min(own.Length - 1, i + 1); j++)
                    around = Math.Max(around, _profile[q][j]);
                neighbours += around;
                counted++;
            }
            if (counted >= 2 && own[i] > factor * neighbours / counted && own[i] > 0)
                return true;
        }
        return false;
    }

    private static (float Level, float Clipped) LevelAndClipping(ReadOnlySpan<float> trace, string file, Ping ping, int r)
    {
        double sum = 0, square = 0;
        float most = 0;
        foreach (float x in trace)
        {
            sum += x;
            square += (double)x * x;
            most = Math.Max(most, Math.Abs(x));
        }
        if (!double.IsFinite(square))
            throw new SurveyException(file, $"ping {ping.Number}, receiver {ping.Receivers[r].Number}", "a sample is not a finite number", "export the recording again, or mark the trace dead (bytes 29–30 = 2)");
        int run = 0, clipped = 0;
        foreach (float x in trace)
        {
            run = most > 0 && Math.Abs(x) == most ? run + 1 : 0;
            clipped += run == 3 ? 3 : run > 3 ? 1 : 0;
        }
        double mean = sum / trace.Length;
        double level = Math.Sqrt(Math.Max(0, square / trace.Length - mean * mean));
        // A constant trace is silent, whatever its offset.
        return (level < 1e-6 * most ? 0 : (float)level, clipped / (float)trace.Length);
    }

    private float[] Profile(ReadOnlySpan<float> trace)
    {
        var profile = new float[profileLength];
        int window = Math.Max(1, trace.Length / profileLength);
        for (int i = 0; i < profileLength; i++)
        {
            var part = trace[Math.Min(i * window, trace.Length)..Math.Min((i + 1) * window, trace.Length)];
            float energy = 0;
            foreach (float x in part)
                energy += x * x;
            profile[i] = part.Length == 0 ? 0 : energy / part.Length;
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
