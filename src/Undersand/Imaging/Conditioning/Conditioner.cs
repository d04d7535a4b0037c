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

    /// <summary>Time about its expected one that an echo by way of vehicle or surface may take, seconds: the underside may lie some 15 cm from the array.</summary>
    private const double ReturnReach = 0.3e-3;

    private readonly LineScan _scan;
    private readonly Survey _survey;
    private readonly ConditioningSettings _settings;
    private readonly ParallelOptions _parallel;
    private readonly double _tail, _seabedEnd;
    private readonly AlignedEcho _seabed, _direct, _return;
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
        _seabedEnd = 2 * settings.TemplateBurial / survey.Sediment.SoundSpeed;
        _seabed = new AlignedEcho(compressor, 2 * compressor.PulseWidth, _seabedEnd, 0.25 * _seabedEnd);
        _direct = new AlignedEcho(compressor, 2 * compressor.PulseWidth, 3 * compressor.PulseWidth, compressor.PulseWidth);
        _return = new AlignedEcho(compressor, ReturnReach, ReturnReach, 0.5 * ReturnReach, scaled: false);
        _cache = cache;
    }

    /// <summary>Blocks of the line.</summary>
    public int BlockCount => (_scan.Reader.Line.PingCount + BlockSize - 1) / BlockSize;

    private int SampleCount => (int)Math.Ceiling((Lead + _tail) / _scan.Reader.Compressor.Interval) + 2;

    /// <summary>The conditioned traces of a block.</summary>
    public ConditionedBlock Block(int block) =>
        _cache.Get(this, block, () =>
        {
            var made = Make(block);
            return (made, made.Samples.LongLength * 4);
        });

    private ConditionedBlock Make(int block)
    {
        int first = block * BlockSize, end = Math.Min(first + BlockSize, _scan.Reader.Line.PingCount);
        var (from, to) = Context(first, end);
        var context = Enumerable.Range(from, to - from).Select(p => (Ping: p, Traces: Compressed(p))).ToList();
        // In the order of their arrival and strength: what is left of one disturbs the next the less.
        var echoes = new List<(AlignedEcho Echo, Func<int, int, double> TimeOf, float[]?[] Models)>();
        Add(_direct, DirectTimeIfInTheWay, _direct.Pulse(_scan.Reader.Compressor));
        if (_settings.SubtractReturns)
            foreach (var way in Enum.GetValues<ReturnWay>())
                Add(_return, (p, r) => ReturnTime(way, p, r), null);
        if (_settings.SubtractSeabed)
            Add(_seabed, SeabedTime, _seabed.Pulse(_scan.Reader.Compressor));
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
            var ping = _scan.Reader.Line.PingAt(p);
            int channel = _scan.Channels.Of(ping, r);
            foreach (var (echo, timeOf, models) in echoes)
                if (models[channel] is { } model)
                    echo.SubtractFrom(pulses, ping.FirstSampleTime, timeOf(p, r), model);
            result.StartTimes[i] = Cut(pulses, p, r, result.Samples.AsSpan(2 * n * i, 2 * n));
        });
        return result;

        void Add(AlignedEcho echo, Func<int, int, double> timeOf, float[]? where) =>
            echoes.Add((echo, timeOf, Learn(context, echo, timeOf, where)));
    }

    /// <summary>Cuts out what the image needs of a trace, faded in; gives the time of its first sample.</summary>
    private double Cut(float[] pulses, int p, int r, Span<float> into)
    {
        var line = _scan.Reader.Line;
        double start = line.PingAt(p).FirstSampleTime, interval = _scan.Reader.Compressor.Interval, seabed = _scan.SeabedTimes[p * _scan.Receivers + r];
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

    /// <summary>The echo's model for each channel; <paramref name="otherwise"/> where there is too little to learn from.</summary>
    private float[]?[] Learn(List<(int Ping, float[]?[] Traces)> context, AlignedEcho echo, Func<int, int, double> timeOf, float[]? otherwise)
    {
        var cuts = _scan.Channels.Numbers.Select(_ => new List<(int Ping, int Receiver)>()).ToArray();
        foreach (var (p, traces) in context)
            for (int r = 0; r < traces.Length; r++)
                if (traces[r] is not null && !double.IsNaN(timeOf(p, r)))
                    cuts[_scan.Channels.Of(_scan.Reader.Line.PingAt(p), r)].Add((p, r));
        var models = new float[]?[cuts.Length];
        int first = context[0].Ping;
        Parallel.For(0, cuts.Length, _parallel, c =>
        {
            var of = cuts[c].Select(t => echo.Cut(context[t.Ping - first].Traces[t.Receiver]!, _scan.Reader.Line.PingAt(t.Ping).FirstSampleTime, timeOf(t.Ping, t.Receiver))).OfType<float[]>().ToList();
            bool tells = cuts[c].Count > 0 && _scan.Along[cuts[c][^1].Ping] - _scan.Along[cuts[c][0].Ping] >= _settings.LeastTemplateTrack;
            models[c] = (tells ? echo.Learn(of) : null) ?? otherwise;
        });
        return models;
    }

    private double SeabedTime(int p, int r) => _scan.SeabedTimes[p * _scan.Receivers + r];

    /// <summary>When the transmission returns by such a way; NaN outside of what is imaged, and where another model takes it out already.</summary>
    private double ReturnTime(ReturnWay way, int p, int r)
    {
        double time = UnfoldedTime(way, p, r), late = time - SeabedTime(p, r);
        if (!(late > 0.9 * _seabedEnd + ReturnReach && late < _tail + ReturnReach))
            return double.NaN;
        for (var earlier = ReturnWay.Surface; earlier < way; earlier++)
            if (Math.Abs(UnfoldedTime(earlier, p, r) - time) < 2 * ReturnReach)
                return double.NaN;
        return time;
    }

    private double UnfoldedTime(ReturnWay way, int p, int r)
    {
        var ping = _scan.Reader.Line.PingAt(p);
        GridPoint source = ping.Source, receiver = ping.Receivers[r].Position;
        double c = _survey.Water.SoundSpeed, heights = SeabedGeometry.VerticalOf(source, receiver, SeabedTime(p, r), c);
        return SeabedGeometry.TimeOf(source, receiver, way switch
        {
            ReturnWay.Surface => source.Depth + receiver.Depth,
            ReturnWay.SurfaceFirst => heights + 2 * source.Depth,
            ReturnWay.SurfaceLast => heights + 2 * receiver.Depth,
            _ => 2 * heights,
        }, c);
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

    /// <summary>Ways by which the transmission returns once more.</summary>
    private enum ReturnWay
    {
        /// <summary>Source, surface, receiver.</summary>
        Surface,
        /// <summary>Source, surface, seabed, receiver.</summary>
        SurfaceFirst,
        /// <summary>Source, seabed, surface, receiver.</summary>
        SurfaceLast,
        /// <summary>Source, seabed, vehicle, seabed, receiver.</summary>
        Vehicle,
    }
}
