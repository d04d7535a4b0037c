using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Goes once through all trace headers of a recording and groups the traces into pings, by bytes 9–12, then 13–16.</summary>
internal sealed class LineIndexBuilder(SegyFile file, List<Caution> cautions)
{
    /// <summary>Receivers that fewer pings have are taken for slips in the headers. Common practice, no source.</summary>
    private const double RareReceiver = 0.01;

    private readonly List<PingEntry> _pings = [];
    private readonly List<TraceEntry> _traces = new(file.Layout.Traces);

    /// <summary>Made only where pings don't simply follow each other.</summary>
    private Dictionary<int, int>? _pingByNumber;

    /// <summary>Ping and receiver of each trace so far; made only where receivers don't simply follow each other.</summary>
    private HashSet<(int Ping, int Receiver)>? _seen;
    private readonly List<int> _replicas = [];
    private int _withoutCoordinates, _otherKinds, _otherDelays, _localTimes;

    private struct PingEntry
    {
        public int Number, Occurrence, LastReceiver, Nanoseconds;
        public long Seconds;
        public double Delay;
    }

    /// <summary>A trace (or −2 − trace where it is dead), its ping, its receiver.</summary>
    private readonly record struct TraceEntry(int Trace, int Ping, int Receiver)
    {
        public bool Live => Trace >= 0;
        public int Number => Live ? Trace : -2 - Trace;
    }

    public LineIndex Build()
    {
        for (int trace = 0; trace < file.Layout.Traces; trace++)
            Add(trace, file.HeaderOf(trace));
        if (_traces.Count == 0)
            throw new SurveyException(file.Name, null, "the file has no traces of receivers", "remove it, or mark live traces by 1 in bytes 29–30");
        if (_traces.TrueForAll(t => t.Receiver <= 0))
            NumberByOrder();
        if (_otherKinds > 0)
            cautions.Add(new Caution(file.Name, "Traces of time breaks, upholes, timing or water breaks (bytes 29–30 = 4, 5, 7, 8) were left out.", _otherKinds));
        if (_localTimes > 0)
            cautions.Add(new Caution(file.Name, "Bytes 167–168 say that times are local or GPS times; they were taken as UTC.", _localTimes));
        if (_otherDelays > 0)
            cautions.Add(new Caution(file.Name, "Receivers of one ping have different delays (bytes 109–110); the ping's first trace was followed.", _otherDelays));
        return Pack(ReceiverNumbers());
    }

    private void Add(int trace, SegyTraceHeader header)
    {
        if (header.IsReplica)
        {
            _replicas.Add(trace);
            return;
        }
        if (header.Kind is 4 or 5 or 7 or 8)
        {
            _otherKinds++;
            return;
        }
        if ((header.SourceX == 0 && header.SourceY == 0) || (header.ReceiverX == 0 && header.ReceiverY == 0))
            _withoutCoordinates++;
        if (header.TimeBasis is 1 or 3 or 5)
            _localTimes++;
        int ping = PingOf(header);
        var pings = System.Runtime.InteropServices.CollectionsMarshal.AsSpan(_pings);
        if (Math.Abs(pings[ping].Delay - header.Delay) > 0.25 * file.Layout.Interval)
            _otherDelays++;
        _traces.Add(new TraceEntry(header.IsLive ? trace : -2 - trace, ping, header.Receiver));
        _seen?.Add((ping, header.Receiver));
        pings[ping].LastReceiver = Math.Max(pings[ping].LastReceiver, header.Receiver);
    }

    private int PingOf(SegyTraceHeader header)
    {
        int occurrence = 0;
        if (Find(header.Ping) is { } ping)
        {
            if (header.Receiver > _pings[ping].LastReceiver || header.Receiver <= 0 || !Has(ping, header.Receiver))
                return ping;
            occurrence = _pings[ping].Occurrence + 1;
        }
        if (_pingByNumber is not null)
            _pingByNumber[header.Ping] = _pings.Count;
        _pings.Add(new PingEntry { Number = header.Ping, Occurrence = occurrence, LastReceiver = int.MinValue, Seconds = HeaderTime.Seconds(header), Nanoseconds = header.HasNanoseconds ? header.Nanoseconds : -1, Delay = header.Delay });
        return _pings.Count - 1;
    }

    /// <summary>The ping that has a number: mostly the last one, or none as numbers rise.</summary>
    private int? Find(int number)
    {
        if (_pingByNumber is null)
        {
            if (_pings.Count == 0 || number > _pings[^1].Number)
                return null;
            if (number == _pings[^1].Number)
                return _pings.Count - 1;
            _pingByNumber = [];
            for (int i = 0; i < _pings.Count; i++)
                _pingByNumber[_pings[i].Number] = i;
        }
        return _pingByNumber.TryGetValue(number, out int ping) ? ping : null;
    }

    private bool Has(int ping, int receiver)
    {
        _seen ??= [.. _traces.Select(trace => (trace.Ping, trace.Receiver))];
        return _seen.Contains((ping, receiver));
    }

    /// <summary>No receiver is numbered: the traces of a ping are counted, and where pings aren't numbered either each trace is a ping.</summary>
    private void NumberByOrder()
    {
        if (_pings.Count == 1 && _traces.Count > 1)
        {
            cautions.Add(new Caution(file.Name, "Bytes 9–16 number neither pings nor receivers; each trace was taken as a ping with one receiver."));
            _pings.Clear();
            foreach (int i in Enumerable.Range(0, _traces.Count))
            {
                SegyTraceHeader header = file.HeaderOf(_traces[i].Number);
                _pings.Add(new PingEntry { Number = i + 1, Seconds = HeaderTime.Seconds(header), Nanoseconds = header.HasNanoseconds ? header.Nanoseconds : -1, Delay = header.Delay });
                _traces[i] = _traces[i] with { Ping = i, Receiver = 1 };
            }
            return;
        }
        int[] next = new int[_pings.Count];
        for (int i = 0; i < _traces.Count; i++)
            _traces[i] = _traces[i] with { Receiver = ++next[_traces[i].Ping] };
        if (next.Max() > 1)
            cautions.Add(new Caution(file.Name, "Bytes 13–16 don't number the receivers; they were counted in the order of their traces."));
    }

    private int[] ReceiverNumbers()
    {
        var counts = new SortedDictionary<int, int>();
        foreach (TraceEntry trace in _traces)
            counts[trace.Receiver] = counts.GetValueOrDefault(trace.Receiver) + 1;
        double least = _pings.Count >= 200 ? RareReceiver * _pings.Count : 0;
        int[] rare = [.. counts.Where(c => c.Value < least).Select(c => c.Key)];
        if (rare.Length > 0 && rare.Length < counts.Count)
        {
            cautions.Add(new Caution(file.Name, $"Receiver numbers that fewer than 1 % of the pings have ({string.Join(", ", rare.Take(10))}) were left out.", rare.Sum(r => counts[r])));
            foreach (int r in rare)
                counts.Remove(r);
        }
        int[] numbers = [.. counts.Keys];
        if (numbers[0] < 1)
            throw new SurveyException(file.Name, "bytes 13–16", $"a receiver has the number {numbers[0]}", "number the receivers of a ping from 1");
        return (long)numbers.Length * _pings.Count <= Array.MaxLength ? numbers : throw new SurveyException(file.Name, "bytes 9–16", "pings and receivers are not numbered sensibly", "number pings in bytes 9–12 and their receivers from 1 in bytes 13–16");
    }

    private LineIndex Pack(int[] receivers)
    {
        var columns = receivers.Select((number, column) => (number, column)).ToDictionary(r => r.number, r => r.column);
        int[] grid = new int[_pings.Count * receivers.Length];
        Array.Fill(grid, LineIndex.Missing);
        bool[] live = new bool[_pings.Count];
        int dead = 0;
        foreach (TraceEntry trace in _traces)
        {
            if (!columns.TryGetValue(trace.Receiver, out int column))
                continue;
            grid[trace.Ping * receivers.Length + column] = trace.Trace;
            live[trace.Ping] |= trace.Live;
            dead += trace.Live ? 0 : 1;
        }
        int[] order = Order(live);
        int missing = order.Sum(ping => grid.AsSpan(ping * receivers.Length, receivers.Length).Count(LineIndex.Missing));
        if (dead > 0)
            cautions.Add(new Caution(file.Name, "Traces are marked dead or dummy (bytes 29–30 = 2, 3) and were left out.", dead));
        if (missing > 0)
            cautions.Add(new Caution(file.Name, "Traces of receivers are missing in pings that have others; they were left out.", missing));
        return new LineIndex
        {
            ReceiverNumbers = receivers,
            TraceOf = Reordered(grid, order, receivers.Length),
            Numbers = [.. order.Select(ping => _pings[ping].Number)],
            Occurrences = [.. order.Select(ping => _pings[ping].Occurrence)],
            Seconds = [.. order.Select(ping => _pings[ping].Seconds)],
            Nanoseconds = [.. order.Select(ping => _pings[ping].Nanoseconds)],
            Delays = [.. order.Select(ping => _pings[ping].Delay)],
            Replicas = _replicas,
            WithoutCoordinates = _withoutCoordinates,
        };
    }

    private int[] Reordered(int[] grid, int[] order, int width)
    {
        if (order.Length == _pings.Count && !order.Where((ping, i) => ping != i).Any())
            return grid;
        int[] reordered = new int[order.Length * width];
        for (int i = 0; i < order.Length; i++)
            grid.AsSpan(order[i] * width, width).CopyTo(reordered.AsSpan(i * width));
        return reordered;
    }

    /// <summary>Pings with a live trace, by number; in the file's order where numbers are used twice.</summary>
    private int[] Order(bool[] live)
    {
        int dropped = live.Count(false), repeated = _pings.Count(p => p.Occurrence > 0);
        if (dropped > 0)
            cautions.Add(new Caution(file.Name, "Pings have no live receiver and were dropped.", dropped));
        if (dropped == live.Length)
            throw new SurveyException(file.Name, "bytes 29–30", "every trace is marked dead or dummy", "mark live traces by 1, or remove the file");
        int[] order = [.. Enumerable.Range(0, _pings.Count).Where(ping => live[ping])];
        if (repeated > 0)
        {
            cautions.Add(new Caution(file.Name, "Ping numbers (bytes 9–12) are used more than once; the order of the file was followed.", repeated));
            return order;
        }
        int unordered = order.Zip(order.Skip(1)).Count(pair => _pings[pair.First].Number > _pings[pair.Second].Number);
        if (unordered == 0)
            return order;
        cautions.Add(new Caution(file.Name, "Pings don't follow each other by number (bytes 9–12) and were sorted.", unordered));
        return [.. order.OrderBy(ping => _pings[ping].Number)];
    }
}

file static class Counting
{
    public static int Count<T>(this T[] values, T value) where T : IEquatable<T> => values.AsSpan().Count(value);
}
