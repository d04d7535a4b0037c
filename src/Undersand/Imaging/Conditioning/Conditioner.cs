using System.Collections.Concurrent;

namespace Undersand.Imaging.Conditioning;

/// <summary>Makes a line's recordings ready for summation, block of pings by block of pings: faulty traces left out, direct arrival and seabed echo taken out.</summary>
/// <remarks>
/// A block is a pure function of the recording and the frozen scan, so it can be made again at any time: on resuming, or when it fell out of the cache.
/// </remarks>
public sealed class Conditioner
{
    /// <summary>Pings of a block.</summary>
    public const int BlockSize = 32;

    /// <summary>Time kept before the seabed's echo, seconds.</summary>
    private const double Lead = 0.15e-3;

    private readonly LineScan _scan;
    private readonly Survey _survey;
    private readonly ConditioningSettings _settings;
    private readonly ParallelOptions _parallel;
    private readonly double _tail;
    private readonly AlignedEcho _seabed, _direct;
    private readonly EchoCache _cache;
    private readonly object _compressed = new();

    /// <summary>For one scanned line.</summary>
    /// <param name="scan">What the scan found.</param>
    /// <param name="survey">Speeds and burial.</param>
    /// <param name="settings">How.</param>
    /// <param name="tail">Time after the seabed's echo that the image needs, seconds.</param>
    /// <param name="cache">Where pieces are kept.</param>
    /// <param name="parallel">Threads; the result does not depend on them.</param>
    public Conditioner(LineScan scan, Survey survey, ConditioningSettings settings, double tail, EchoCache cache, ParallelOptions parallel)
    {
        _scan = scan;
        _survey = survey;
        _settings = settings;
        _parallel = parallel;
        _tail = tail;
        var compressor = scan.Reader.Compressor;
        double after = 2 * settings.TemplateBurial / survey.Sediment.SoundSpeed;
        _seabed = new AlignedEcho(compressor, 2 * compressor.PulseWidth, after, 0.25 * after);
        _direct = new AlignedEcho(compressor, 2 * compressor.PulseWidth, 3 * compressor.PulseWidth, compressor.PulseWidth);
        _cache = cache;
    }

    /// <summary>Blocks of the line.</summary>
    public int BlockCount => (_scan.Reader.Line.PingCount + BlockSize - 1) / BlockSize;

    private int SampleCount => (int)Math.Ceiling((Lead + _tail) / _scan.Reader.Compressor.Interval) + 2;

    /// <summary>The conditioned traces of a block.</summary>
    public ConditionedBlock Block(int block) =>
        _cache.Get(this, block, () => Make(block) is var made ? (made, made.Samples.LongLength * 4) : default);

    private ConditionedBlock Make(int block)
    {
        int first = block * BlockSize, end = Math.Min(first + BlockSize, _scan.Reader.Line.PingCount);
        var (from, to) = Context(first, end);
        var context = Enumerable.Range(from, to - from).Select(p => (Ping: p, Traces: Compressed(p))).ToList();
        var templates = _settings.SubtractSeabed ? Learn(context, _seabed, (p, r) => _scan.SeabedTimes[p * _scan.Receivers + r]) : [];
        var directs = Learn(context, _direct, DirectTimeIfInTheWay);
        var list = new List<(int Ping, int Receiver)>();
        for (int p = first; p < end; p++)
            for (int r = 0; r < _scan.Reader.Line.PingAt(p).Receivers.Count; r++)
                if (_scan.IsUsable(p) && _scan.States[p * _scan.Receivers + r] == TraceState.Good)
                    list.Add((p, r));
        int n = SampleCount;
        var result = new ConditionedBlock(list.ToArray(), new double[list.Count], n, new float[2L * n * list.Count]);
        Parallel.For(0, list.Count, _parallel, i =>
        {
            var (p, r) = list[i];
            var pulses = (float[])context[p - from].Traces[r]!.Clone();
            result.StartTimes[i] = Condition(pulses, p, r, templates, directs, result.Samples.AsSpan(2 * n * i, 2 * n));
        });
        return result;
    }

    private double Condition(float[] pulses, int p, int r, float[]?[] templates, float[]?[] directs, Span<float> into)
    {
        var line = _scan.Reader.Line;
        double start = line.PingAt(p).FirstSampleTime, interval = _scan.Reader.Compressor.Interval, seabed = _scan.SeabedTimes[p * _scan.Receivers + r];
        if (directs.Length > r && directs[r] is { } direct)
            _direct.SubtractFrom(pulses, start, DirectTimeIfInTheWay(p, r), direct);
        if (templates.Length > r && templates[r] is { } template)
            _seabed.SubtractFrom(pulses, start, seabed, template);
        int first = Math.Max(0, (int)Math.Floor((seabed - Lead - start) / interval)), ramp = (int)(0.5 * Lead / interval);
        int available = Math.Clamp(pulses.Length / 2 - first, 0, into.Length / 2);
        pulses.AsSpan(2 * Math.Min(first, pulses.Length / 2), 2 * available).CopyTo(into);
        into[(2 * available)..].Clear();
        for (int k = 0; k < Math.Min(ramp, available); k++)
        {
            float w = (float)(0.5 - 0.5 * Math.Cos(Math.PI * k / ramp));
            into[2 * k] *= w;
            into[2 * k + 1] *= w;
        }
        return start + first * interval;
    }

    /// <summary>The pings within the template's reach of a block.</summary>
    private (int From, int To) Context(int first, int end)
    {
        int from = first, to = end;
        while (from > 0 && _scan.Along[first] - _scan.Along[from - 1] <= _settings.TemplateReach)
            from--;
        while (to < _scan.Along.Length && _scan.Along[to] - _scan.Along[end - 1] <= _settings.TemplateReach)
            to++;
        return (from, to);
    }

    private float[]?[] Learn(List<(int Ping, float[]?[] Traces)> context, AlignedEcho echo, Func<int, int, double> timeOf)
    {
        var models = new float[]?[_scan.Receivers];
        var all = new ConcurrentDictionary<int, List<float[]>>();
        Parallel.For(0, _scan.Receivers, _parallel, r =>
        {
            var cuts = new List<float[]>();
            foreach (var (p, traces) in context)
                if (r < traces.Length && traces[r] is { } pulses && echo.Cut(pulses, _scan.Reader.Line.PingAt(p).FirstSampleTime, timeOf(p, r)) is { } cut)
                    cuts.Add(cut);
            all[r] = cuts;
            models[r] = echo.Learn(cuts);
        });
        // Receivers with too few traces of their own (a short line) share what all of them heard.
        if (models.Any(m => m is null) && echo.Learn(all.OrderBy(a => a.Key).SelectMany(a => a.Value).ToList()) is { } shared)
            for (int r = 0; r < models.Length; r++)
                models[r] ??= shared;
        return models;
    }

    private double DirectTimeIfInTheWay(int p, int r)
    {
        var ping = _scan.Reader.Line.PingAt(p);
        double direct = ping.Source.DistanceTo(ping.Receivers[r].Position) / _survey.Water.SoundSpeed;
        return direct > _scan.SeabedTimes[p * _scan.Receivers + r] - Lead - 2 * _scan.Reader.Compressor.PulseWidth ? direct : double.NaN;
    }

    /// <summary>The compressed traces of a ping; null where a trace is left out.</summary>
    private float[]?[] Compressed(int pingIndex)
    {
        int block = pingIndex / BlockSize;
        return _cache.Get(_compressed, block, () =>
        {
            var pings = CompressBlock(block);
            return (pings, pings.Sum(p => p.Sum(t => t is null ? 0L : 4L * t.Length)));
        })[pingIndex - block * BlockSize];
    }

    private float[]?[][] CompressBlock(int block)
    {
        int first = block * BlockSize, count = Math.Min(BlockSize, _scan.Reader.Line.PingCount - first);
        var pings = new float[]?[count][];
        Parallel.For(0, count, _parallel, i =>
        {
            var ping = _scan.Reader.Line.PingAt(first + i);
            var traces = new float[]?[ping.Receivers.Count];
            if (_scan.IsUsable(first + i))
            {
                var raw = _scan.Reader.ReadRaw(first + i);
                int samples = _scan.Reader.Line.SampleCount;
                for (int r = 0; r < traces.Length; r++)
                {
                    if (_scan.States[(first + i) * _scan.Receivers + r] != TraceState.Good)
                        continue;
                    traces[r] = new float[2 * _scan.Reader.Compressor.SampleCount];
                    _scan.Reader.Compress(raw.AsSpan(r * samples, samples), ping, r, traces[r]);
                }
            }
            pings[i] = traces;
        });
        return pings;
    }
}
