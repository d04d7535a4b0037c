using NodaTime;
using Undersand.Positioning;
using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>A recording as a survey line. Each ping has the same receivers in the same order; those it lacks are not live and silent.</summary>
internal sealed class SegyLine : ISurveyLine, IDisposable
{
    /// <summary>Receivers of all pings of a survey up to which pings are kept once made; in lines beyond their share of it, a few thousand are.</summary>
    public const long ReceiversKept = 1 << 21;
    private const int PingsKept = 1 << 12;

    private readonly SegyFile _file;
    private readonly LineIndex _index;
    private readonly Instant[] _times;
    private readonly NavigationTrack? _track;
    private readonly ArrayDescription? _array;
    private readonly float _offset;
    private readonly (int Index, Ping Ping)?[]? _recent;
    private readonly Ping?[]? _pings;

    public SegyLine(SegyFile file, LineIndex index, Instant[] times, NavigationTrack? track, ArrayDescription? array, float offset, bool isCorrelated, ReadOnlyMemory<float>? replica, long receiversKept = ReceiversKept)
    {
        (_file, _index, _times, _track, _array, _offset) = (file, index, times, track, array, offset);
        (IsCorrelated, Replica) = (isCorrelated, replica);
        if ((long)index.PingCount * index.ReceiverCount <= receiversKept)
            _pings = new Ping?[index.PingCount];
        else
            _recent = new (int, Ping)?[PingsKept];
    }

    public string Name => _file.Name;
    public int PingCount => _index.PingCount;
    public int SampleCount => _file.Layout.Samples;
    public double SampleInterval => _file.Layout.Interval;
    public bool IsCorrelated { get; }
    public ReadOnlyMemory<float>? Replica { get; }

    public Ping PingAt(int pingIndex)
    {
        if ((uint)pingIndex >= (uint)PingCount)
            throw new ArgumentOutOfRangeException(nameof(pingIndex), pingIndex, $"the line has {PingCount} pings");
        if (_pings is not null)
            return Volatile.Read(ref _pings[pingIndex]) ?? Interlocked.CompareExchange(ref _pings[pingIndex], Make(pingIndex), null) ?? _pings[pingIndex]!;
        lock (_recent!)
        {
            if (_recent[pingIndex % PingsKept] is { } kept && kept.Index == pingIndex)
                return kept.Ping;
            Ping made = Make(pingIndex);
            _recent[pingIndex % PingsKept] = (pingIndex, made);
            return made;
        }
    }

    public void Read(int pingIndex, Span<float> samples)
    {
        int receivers = _index.ReceiverCount, count = SampleCount;
        if ((uint)pingIndex >= (uint)PingCount)
            throw new ArgumentOutOfRangeException(nameof(pingIndex), pingIndex, $"the line has {PingCount} pings");
        if (samples.Length < receivers * count)
            throw new ArgumentException($"the span holds {samples.Length} samples, fewer than {receivers} × {count}", nameof(samples));
        for (int r = 0; r < receivers; r++)
        {
            Span<float> trace = samples.Slice(r * count, count);
            int number = _index.TraceOf[pingIndex * receivers + r];
            if (number < 0)
                trace.Clear();
            else
                ReadTrace(number, trace);
        }
    }

    public void Dispose() => _file.Dispose();

    private void ReadTrace(int trace, Span<float> samples)
    {
        _file.Read(trace, samples);
        SampleValues.RefuseNonFinite(samples, Name, trace);
        if (_offset == 0)
            return;
        foreach (ref float sample in samples[..Math.Min(samples.Length, _file.Layout.SamplesOf(trace))])
            sample -= _offset;
    }

    private Ping Make(int ping)
    {
        var receivers = new Receiver[_index.ReceiverCount];
        GridPoint source = _track is null ? PlaceFromHeaders(ping, receivers) : PlaceFromNavigation(ping, receivers);
        return new Ping(_index.Numbers[ping], _times[ping], _index.Delays[ping], source, receivers);
    }

    private GridPoint PlaceFromNavigation(int ping, Receiver[] receivers)
    {
        VehiclePose pose = _track!.At(_times[ping]);
        for (int r = 0; r < receivers.Length; r++)
            receivers[r] = new(_index.ReceiverNumbers[r], pose.Place(_array!.Receivers[_index.ReceiverNumbers[r] - 1]), _index.TraceOf[ping * receivers.Length + r] >= 0);
        return pose.Place(_array!.Sources[0]);
    }

    /// <summary>Missing receivers are put at the source: they are not live, and nobody uses the place.</summary>
    private GridPoint PlaceFromHeaders(int ping, Receiver[] receivers)
    {
        GridPoint source = SourceOf(_file.HeaderOf(_index.AnyTraceOf(ping)));
        bool found = false;
        for (int r = 0; r < receivers.Length; r++)
        {
            int trace = _index.TraceOf[ping * receivers.Length + r];
            receivers[r] = new(_index.ReceiverNumbers[r], source, false);
            if (trace < 0)
                continue;
            SegyTraceHeader header = _file.HeaderOf(trace);
            if (!found)
                source = SourceOf(header);
            found = true;
            bool placed = (header.ReceiverX != 0 || header.ReceiverY != 0) && (header.SourceX != 0 || header.SourceY != 0);
            receivers[r] = new(_index.ReceiverNumbers[r], new(header.ReceiverX, header.ReceiverY, -header.ReceiverElevation), placed);
        }
        return source;
    }

    private static GridPoint SourceOf(SegyTraceHeader header) => new(header.SourceX, header.SourceY, header.SourceDepth);
}
