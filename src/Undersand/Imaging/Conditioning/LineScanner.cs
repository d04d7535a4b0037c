using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>Goes over a line's recordings before imaging: judges the traces, measures the noise, and tracks the seabed.</summary>
/// <remarks>
/// Two readings: the first finds faults and candidates for the seabed, the second, once the track is known, times its echo in each trace.
/// The recording is streamed; what is kept is some bytes a trace. The result does not depend on the number of threads.
/// </remarks>
public sealed class LineScanner
{
    /// <summary>The place that an exception names when a line's seabed was not found.</summary>
    public const string NoSeabed = "seabed";

    private const double ProfileStep = 0.25e-3;
    private readonly Survey _survey;
    private readonly ConditioningSettings _settings;
    private readonly ParallelOptions _parallel;

    /// <summary>For the lines of one survey.</summary>
    public LineScanner(Survey survey, ConditioningSettings settings, ParallelOptions parallel)
    {
        _survey = survey;
        _settings = settings;
        _parallel = parallel;
    }

    /// <summary>Scans a line.</summary>
    /// <param name="line">The recordings.</param>
    /// <param name="advance">Told the number of pings done, twice over (two readings); may be null.</param>
    /// <exception cref="SurveyException">Samples are not numbers, the line is silent, or no seabed is found.</exception>
    public LineScan Scan(ISurveyLine line, Action<int>? advance = null)
    {
        var compressor = Compressors.For(_survey, line, _settings.Compression);
        var reader = new LineReader(line, _survey, compressor, FindTones(line));
        int receivers = Enumerable.Range(0, line.PingCount).Max(p => line.PingAt(p).Receivers.Count);
        var scan = new LineScan(reader, receivers);
        MeasureTrack(scan);
        var search = new SeabedSearch(compressor, _survey.Water.SoundSpeed, _settings.SeabedSnrDb);

        var first = new FirstReading(line.PingCount, receivers, (int)(line.SampleCount * line.SampleInterval / ProfileStep) + 1);
        Parallel.For(0, line.PingCount, _parallel, p => { first.Read(p, reader, search); advance?.Invoke(1); });
        first.Judge(scan, _settings);
        FollowSeabed(scan, first);

        var noise = new float[3][];
        for (int w = 0; w < 3; w++)
            noise[w] = new float[line.PingCount * receivers];
        Parallel.For(0, line.PingCount, _parallel, p => { TimeSeabed(scan, search, p, noise); advance?.Invoke(1); });
        MeasureNoise(scan, noise);
        Finish(scan);
        return scan;
    }

    private IReadOnlyList<Tone> FindTones(ISurveyLine line)
    {
        var traces = new List<float[]>();
        int step = Math.Max(1, line.PingCount / 48);
        for (int p = 0; p < line.PingCount; p += step)
        {
            var ping = line.PingAt(p);
            var raw = new float[ping.Receivers.Count * line.SampleCount];
            line.Read(p, raw);
            int r = (p / step) % ping.Receivers.Count;
            traces.Add(raw.AsSpan(r * line.SampleCount, line.SampleCount).ToArray());
        }
        return Tone.Find(traces, _settings.ToneDb);
    }

    private static void MeasureTrack(LineScan scan)
    {
        var line = scan.Reader.Line;
        for (int p = 1; p < line.PingCount; p++)
            scan.Along[p] = scan.Along[p - 1] + line.PingAt(p).Source.HorizontalDistanceTo(line.PingAt(p - 1).Source);
    }

    private static void FollowSeabed(LineScan scan, FirstReading first)
    {
        int n = scan.SeabedDepth.Length;
        var candidates = first.Candidates.Select((c, p) => IsBurst(scan, p) ? [] : c).ToArray();
        var track = SeabedTracker.Track(candidates, scan.Along);
        int found = track.Count(d => !double.IsNaN(d));
        if (found < Math.Max(1, 0.2 * n))
            throw ReceiverUnderSeabed(scan.Reader.Line) ?? new SurveyException(scan.Reader.Line.Name, NoSeabed, $"no seabed was found: an echo that continues from ping to ping stands out in only {found} of {n} pings", "check the waveform, the sound speed and the delay of the first sample (bytes 109–110)");
        track.CopyTo(scan.SeabedDepth, 0);
        // Bridge what was skipped, up to three metres.
        int last = -1;
        for (int p = 0; p < n; p++)
        {
            if (double.IsNaN(track[p]))
                continue;
            for (int q = last + 1; last >= 0 && q < p && scan.Along[p] - scan.Along[last] < 3; q++)
            {
                double part = (q - last) / (double)(p - last);
                scan.SeabedDepth[q] = track[last] + part * (track[p] - track[last]);
                scan.Bridged.Add(q);
            }
            last = p;
        }
    }

    /// <summary>No seabed below the deepest receiver, and that receiver lies far below the source: its place is wrong, not the sea.</summary>
    private static SurveyException? ReceiverUnderSeabed(ISurveyLine line)
    {
        // Lower than transducers on one vehicle are apart. Our own choice, no source.
        const double unlikely = 0.5;
        var (ping, receiver) = Enumerable.Range(0, line.PingCount).Select(line.PingAt)
            .SelectMany(p => p.Receivers.Where(r => r.Live), (p, r) => (Ping: p, Receiver: r)).MaxBy(a => a.Receiver.Position.Depth - a.Ping.Source.Depth);
        double below = ping is null ? 0 : receiver.Position.Depth - ping.Source.Depth;
        return below < unlikely ? null : new SurveyException(line.Name, $"ping {ping!.Number}, receiver {receiver.Number}",
            $"the receiver lies {below:0.00} m below the source, and no seabed was found below it, so it lies under the seabed", "check the elevations and their scalar (bytes 41–44, 69–70), or the lever arms in array.json");
    }

    private static bool IsBurst(LineScan scan, int ping) =>
        Enumerable.Range(0, scan.Reader.Line.PingAt(ping).Receivers.Count).All(r => scan.States[ping * scan.Receivers + r] != TraceState.Good);

    private void TimeSeabed(LineScan scan, SeabedSearch search, int p, float[][] noise)
    {
        const double window = 0.12, outlier = 0.1;
        var ping = scan.Reader.Line.PingAt(p);
        double c = _survey.Water.SoundSpeed, depth = scan.SeabedDepth[p];
        var times = scan.SeabedTimes.AsSpan(p * scan.Receivers, scan.Receivers);
        times.Fill(float.NaN);
        for (int w = 0; w < 3; w++)
            noise[w].AsSpan(p * scan.Receivers, scan.Receivers).Fill(float.NaN);
        (scan.SeabedSnr[p], scan.SeabedAmplitude[p]) = (float.NaN, float.NaN);
        if (double.IsNaN(depth))
            return;
        var raw = scan.Reader.ReadRaw(p);
        int samples = scan.Reader.Line.SampleCount;
        double pulse = scan.Reader.Compressor.PulseWidth, end = ping.FirstSampleTime + samples * scan.Reader.Line.SampleInterval;
        var depths = new double[ping.Receivers.Count];
        var amplitudes = new List<double>();
        var snrs = new List<double>();
        var pulses = new float[2 * scan.Reader.Compressor.SampleCount];
        for (int r = 0; r < depths.Length; r++)
        {
            depths[r] = double.NaN;
            int trace = p * scan.Receivers + r;
            if (scan.States[trace] != TraceState.Good)
                continue;
            scan.Reader.Compress(raw.AsSpan(r * samples, samples), ping, r, pulses);
            var at = ping.Receivers[r].Position;
            double expected = SeabedGeometry.EchoTime(ping.Source, at, depth, c), direct = search.DirectTime(ping, r);
            noise[0][trace] = (float)search.MeanPower(ping, pulses, ping.FirstSampleTime, direct - 2 * pulse);
            noise[1][trace] = (float)search.MeanPower(ping, pulses, direct + 3 * pulse, expected - 3 * pulse);
            noise[2][trace] = (float)search.MeanPower(ping, pulses, end - 0.12 * (end - ping.FirstSampleTime), end);
            double quiet = Math.Sqrt(Enumerable.Range(0, 3).Select(w => (double)noise[w][trace]).Where(x => x > 0).DefaultIfEmpty(0).Min());
            var (time, amplitude) = search.PickNear(ping, pulses, expected, 2 * window / c, quiet);
            if (double.IsNaN(time))
                continue;
            depths[r] = SeabedGeometry.DepthFor(ping.Source, at, time, c);
            amplitudes.Add(amplitude);
            if (quiet > 0)
                snrs.Add(20 * Math.Log10(amplitude / quiet));
        }
        double median = Robust.MedianOf(depths.Where(double.IsFinite));
        if (double.IsNaN(median))
            median = depth;
        else
            scan.SeabedDepth[p] = median;
        for (int r = 0; r < depths.Length; r++)
        {
            double own = Math.Abs(depths[r] - median) < outlier ? depths[r] : median;
            times[r] = (float)SeabedGeometry.EchoTime(ping.Source, ping.Receivers[r].Position, own, c);
        }
        if (amplitudes.Count > 0)
            scan.SeabedAmplitude[p] = (float)Robust.MedianOf(amplitudes);
        if (snrs.Count > 0)
            scan.SeabedSnr[p] = (float)Robust.MedianOf(snrs);
    }

    private static void MeasureNoise(LineScan scan, float[][] noise)
    {
        // The quietest of the three windows: before the direct arrival, between it and the seabed, at the end.
        double least = double.PositiveInfinity;
        foreach (var window in noise)
        {
            var values = window.Where(x => x > 0).Select(x => (double)x).ToArray();
            if (values.Length > 0)
                least = Math.Min(least, values.Length < 8 ? values.Average() : Robust.Median(values));
        }
        scan.Noise = double.IsFinite(least) ? Math.Sqrt(least) : 0;
    }

    private void Finish(LineScan scan)
    {
        double scale = _survey.Calibration is { } c ? c.SourcePressureAt1Metre / c.PascalPerUnit : 1;
        scan.RecordedNoise = scan.Noise * scale;
        double lowest = _survey.Water.SoundSpeed * 2e-5;
        for (int p = 0; p < scan.SeabedDepth.Length; p++)
        {
            var ping = scan.Reader.Line.PingAt(p);
            foreach (var receiver in ping.Receivers)
                if (receiver.Position.Depth > scan.SeabedDepth[p] - lowest)
                    throw new SurveyException(scan.Reader.Line.Name, $"ping {ping.Number}, receiver {receiver.Number}", $"the receiver lies {receiver.Position.Depth - scan.SeabedDepth[p]:0.00} m under the seabed", "check the elevations and their scalar (bytes 41–44, 69–70)");
        }
    }
}
