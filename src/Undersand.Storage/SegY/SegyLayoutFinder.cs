namespace Undersand.Storage.SegY;

/// <summary>
/// Finds out how a SEG-Y file is laid out. Nothing in the headers is believed alone: of several candidates for byte order, sample
/// count and extra headers the first is taken that fits the file's size and finds trace headers where they must be.
/// </summary>
/// <remarks>SEG-Y revisions 0 (1975), 1 (2002), 2.0 (2017), 2.1 (2023). Byte numbers are the standard's.</remarks>
internal sealed class SegyLayoutFinder
{
    private const int TextSize = 3200, FirstHeaders = 3600;
    private readonly SegySource _source;
    private readonly byte[] _binary = new byte[400];
    private readonly List<string> _remarks = [];
    private readonly SegyByteOrder _order;
    private readonly (int Major, int Minor) _revision;

    private SegyLayoutFinder(SegySource source)
    {
        _source = source;
        if (source.Length == 0)
            throw new SurveyException(source.Name, null, "the file is empty", "remove it or copy it again");
        _source.Read(0, _binary);
        if (source.Length < FirstHeaders + SegyTraceHeader.Size)
            throw Refuse(null, $"the file has {source.Length} bytes, fewer than the {FirstHeaders + SegyTraceHeader.Size} of a SEG-Y file with one trace", "copy it again from where it was recorded");
        _source.ReadExactly(TextSize, _binary);
        _order = FindByteOrder();
        var b = Binary;
        _revision = _order == SegyByteOrder.PairSwapped ? (b.ByteAt(3502), b.ByteAt(3501)) : (b.ByteAt(3501), b.ByteAt(3502));
    }

    /// <summary>Finds the layout.</summary>
    /// <exception cref="SurveyException">The file is no SEG-Y file, or is broken.</exception>
    public static SegyLayout Find(SegySource source) => new SegyLayoutFinder(source).Find();

    private HeaderBytes Binary => new(_binary, _order, TextSize + 1);

    private int FormatCode => Binary.Int16At(3225);

    /// <summary>Revision 2 fields count where the revision or the byte-order constant says so; old files have anything there.</summary>
    private bool IsRevision2 => _revision.Major == 2 || _revision is (0, 2) || Binary.UInt32At(3297) == 16909060;

    private SurveyException Refuse(string? place, string wrong, string mend) => new(_source.Name, place, wrong, mend);

    private SegyByteOrder FindByteOrder()
    {
        foreach (SegyByteOrder order in Enum.GetValues<SegyByteOrder>())
            if (new HeaderBytes(_binary, order, TextSize + 1).UInt32At(3297) == 16909060 && SegyFormats.IsKnown(new HeaderBytes(_binary, order, TextSize + 1).Int16At(3225)))
                return order;
        if (SegyFormats.IsKnown(new HeaderBytes(_binary, SegyByteOrder.BigEndian, TextSize + 1).Int16At(3225)))
            return SegyByteOrder.BigEndian;
        if (!SegyFormats.IsKnown(new HeaderBytes(_binary, SegyByteOrder.LittleEndian, TextSize + 1).Int16At(3225)))
            throw NoSegY();
        return LooksPairSwapped() ? SegyByteOrder.PairSwapped : SegyByteOrder.LittleEndian;
    }

    /// <summary>16-bit words can't tell the two little orders apart; counters of 32 bits can: they are small in the right one.</summary>
    private bool LooksPairSwapped()
    {
        byte[] header = new byte[SegyTraceHeader.Size];
        _source.ReadExactly(FirstHeaders, header);
        double little = 0, swapped = 0;
        foreach (int number in (int[])[1, 5, 9, 13])
        {
            little += Math.Log(1 + Math.Abs((double)new HeaderBytes(header, SegyByteOrder.LittleEndian).Int32At(number)));
            swapped += Math.Log(1 + Math.Abs((double)new HeaderBytes(header, SegyByteOrder.PairSwapped).Int32At(number)));
        }
        return swapped < little;
    }

    private SurveyException NoSegY()
    {
        byte[] start = new byte[(int)Math.Min(_source.Length, 1 << 16)];
        _source.ReadExactly(0, start);
        int code = new HeaderBytes(_binary, SegyByteOrder.BigEndian, TextSize + 1).Int16At(3225);
        if (!start.AsSpan().ContainsAnyExcept((byte)0))
            return Refuse("bytes 3225–3226", "the file holds only zeros and no sample format", "copy it again from where it was recorded");
        if (!start.AsSpan().ContainsAnyExceptInRange((byte)9, (byte)126))
            return Refuse("bytes 3225–3226", "this is a text file and no SEG-Y recording", "remove it or give it another ending than .sgy");
        return Refuse("bytes 3225–3226", $"the sample format code is {code}, which the standard doesn't have (1–12, 15, 16)", "write the right code, or remove the file if it is no SEG-Y recording");
    }

    private SegyLayout Find()
    {
        Frame frame = FindFrame();
        byte[] header = new byte[SegyTraceHeader.Size * (1 + frame.ExtraHeaders)];
        _source.ReadExactly(frame.FirstTrace, header);
        var first = new SegyTraceHeader(header, _order);
        var layout = new SegyLayout
        {
            ByteOrder = _order,
            FormatCode = FormatCode,
            Format = (SegyFormat)FormatCode,
            Revision = _revision,
            FirstTrace = frame.FirstTrace,
            End = frame.End,
            ExtendedTextHeaders = frame.TextHeaders,
            ExtraTraceHeaders = frame.ExtraHeaders,
            Samples = frame.Samples,
            Traces = frame.Traces,
            Starts = frame.Starts,
            LastTraceLacks = frame.LastTraceLacks,
            HeadersDisagree = frame.HeadersDisagree,
            Interval = FindInterval(first),
            Sweep = FindSweep(),
            SweepType = Binary.Int16At(3239),
            CorrelatedFlag = Binary.Int16At(3249),
        };
        SegyFormat real = FormatJudge.Judge(_source, layout, _remarks);
        if (real != layout.Format)
            _remarks.Add($"bytes 3225–3226 give sample format {layout.FormatCode} ({SegyFormats.NameOf(layout.Format)}), but the samples are of format {(int)real} ({SegyFormats.NameOf(real)}) and were read so");
        if (_revision is not ((0, 0) or (1, 0) or (2, 0) or (2, 1)))
            _remarks.Add($"bytes 3501–3502 give the revision {_revision.Major}.{_revision.Minor}, which doesn't exist, and were taken as a hint only");
        return layout with { Format = real, Remarks = _remarks };
    }

    /// <summary>Seconds; the extended interval, the trace header's, the binary header's, whichever is possible first.</summary>
    private double FindInterval(SegyTraceHeader first)
    {
        double extended = IsRevision2 ? Binary.DoubleAt(3273) : 0, binary = Binary.Int16At(3217), trace = first.IntervalMicroseconds;
        static bool Possible(double us) => double.IsFinite(us) && us is > 1e-3 and < 1e8;
        double taken = Possible(extended) ? extended : Possible(trace) ? trace : binary;
        if (!Possible(taken))
        {
            string what = binary == 0 && trace == 0 ? "0 µs, and so are bytes 3217–3218" : $"{trace} µs, and that in bytes 3217–3218 is {binary} µs";
            throw Refuse("trace 1, bytes 117–118", $"the sample interval is {what}", "write it to either");
        }
        if (Possible(trace) && Possible(binary) && (Differ(trace, taken) || Differ(binary, taken)))
            _remarks.Add($"the sample interval is {binary} µs in bytes 3217–3218 and {trace} µs in trace 1; {taken} µs was taken");
        else if (!Possible(trace) && trace != 0 || !Possible(binary) && binary != 0)
            _remarks.Add($"one of the sample intervals (bytes 3217–3218: {binary} µs, trace 1, bytes 117–118: {trace} µs) is impossible; {taken} µs was taken");
        return taken * 1e-6;
    }

    /// <summary>Integers round by up to half a microsecond.</summary>
    private static bool Differ(double a, double b) => Math.Abs(a - b) > 0.5 + 1e-9 && Math.Abs(a - b) > 1e-3 * b;

    private Waveform? FindSweep()
    {
        int start = Binary.UInt16At(3233), end = Binary.UInt16At(3235), length = Binary.UInt16At(3237);
        if (start == 0 || end == 0 || start == end || length == 0)
            return null;
        double taper = Math.Max(Binary.UInt16At(3243), Binary.UInt16At(3245)) / (double)length;
        return new Waveform(start, end, length * 1e-3, Math.Min(taper, 0.5));
    }

    private Frame FindFrame() => new SegyFrameFinder(_source, _binary, _order, IsRevision2, _remarks).Find();
}

/// <summary>Where the traces lie.</summary>
internal sealed record Frame(long FirstTrace, long End, int TextHeaders, int ExtraHeaders, int Samples, int Traces, long[]? Starts = null, int LastTraceLacks = 0, long Leftover = 0, bool HeadersDisagree = false);
