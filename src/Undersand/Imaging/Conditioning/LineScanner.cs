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
    /// <param name="byHand">Stretches whose seabed a person laid; the last that covers a ping holds. Those of other lines don't count.</param>
    /// <exception cref="SurveyException">Samples are not numbers, the line is silent, or no seabed is found.</exception>
    public LineScan Scan(ISurveyLine line, Action<int>? advance = null, IReadOnlyList<SeabedStretch>? byHand = null)
    {
        var compressor = Compressors.For(_survey, line, _settings.Compression);
        var reader = new LineReader(line, _survey, compressor, FindTones(line));
        var scan = new LineScan(reader);
        int receivers = scan.Receivers;
        MeasureTrack(scan);
        var search = new SeabedSearch(compressor, _survey.Water.SoundSpeed, _settings.SeabedSnrDb);

        var first = new FirstReading(line.PingCount, receivers, (int)(line.SampleCount * line.SampleInterval / ProfileStep) + 1);
        ForEachPing(line, p => { first.Read(p, reader, search); advance?.Invoke(1); });
        first.Judge(scan, _settings);
        FollowSeabed(scan, first, search.Apart, [.. (byHand ?? []).Where(s => s.Line == line.Name)]);

        var timer = new SeabedTimer(scan, search, _survey.Water.SoundSpeed);
        var noise = new float[SeabedTimer.NoiseWindows][];
        for (int w = 0; w < noise.Length; w++)
            noise[w] = new float[line.PingCount * receivers];
        ForEachPing(line, p => { timer.Time(p, noise); advance?.Invoke(1); });
        MeasureNoise(scan, noise);
        Finish(scan);
        return scan;
    }

    /// <summary>A scan of an earlier opening of the same recording, in the same survey and settings, for this one.</summary>
    public LineScan Again(LineScan known, ISurveyLine line) => known.Over(new LineReader(line, _survey, known.Reader.Compressor, known.Reader.Tones));

    private void ForEachPing(ISurveyLine line, Action<int> act) => Refusal.AsItself(() => Parallel.For(0, line.PingCount, _parallel, act));

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
            if (ping.Receivers[r].Live)
                traces.Add(raw.AsSpan(r * line.SampleCount, line.SampleCount).ToArray());
        }
        return ToneFinder.Find(traces, _settings.ToneDb);
    }

    private static void MeasureTrack(LineScan scan)
    {
        var line = scan.Reader.Line;
        for (int p = 1; p < line.PingCount; p++)
            scan.Along[p] = scan.Along[p - 1] + line.PingAt(p).Source.HorizontalDistanceTo(line.PingAt(p - 1).Source);
    }

    private static void FollowSeabed(LineScan scan, FirstReading first, double apart, SeabedStretch[] byHand)
    {
        int n = scan.SeabedDepth.Length;
        var candidates = first.Candidates.Select((c, p) => HasNoGoodTrace(scan, p) ? [] : Meant(c, byHand, scan.Reader.Line.PingAt(p).Number)).ToArray();
        var vehicle = Enumerable.Range(0, n).Select(p => scan.Reader.Line.PingAt(p).Source.Depth).ToArray();
        var track = SeabedTracker.TrackFirst(candidates, scan.Along, vehicle, apart);
        int found = track.Count(d => !double.IsNaN(d));
        if (found < Math.Max(1, 0.2 * n))
            throw UnderSeabed.Explain(scan.Reader.Line) ?? new SurveyException(scan.Reader.Line.Name, NoSeabed, $"no seabed was found: an echo that continues from ping to ping stands out in only {found} of {n} pings", "check the waveform, the sound speed and the delay of the first sample (bytes 109–110)");
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

    // Where a person laid the seabed, only echoes near it may be it, and where there is none it lies as it was laid; no way round is cheaper.
    private static SeabedCandidate[] Meant(SeabedCandidate[] candidates, SeabedStretch[] byHand, int ping)
    {
        // An echo is what stands 15 dB out of the noise. Common practice, no source.
        const double sure = 100, clear = 15;
        if (SeabedStretch.Holding(byHand, ping)?.At(ping) is not { } laid)
            return candidates;
        SeabedCandidate[] near = [.. candidates.Where(c => c.Level >= clear && Math.Abs(c.Depth - laid) <= SeabedStretch.Reach)];
        return near.Length > 0 ? Array.ConvertAll(near, c => c with { Score = c.Score + sure }) : [new SeabedCandidate(laid, sure, 0)];
    }

    private static bool HasNoGoodTrace(LineScan scan, int ping) =>
        Enumerable.Range(0, scan.Reader.Line.PingAt(ping).Receivers.Count).All(r => scan.States[ping * scan.Receivers + r] != TraceState.Good);

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
        UnderSeabed.Refuse(scan, lowest: _survey.Water.SoundSpeed * 2e-5);
    }
}
