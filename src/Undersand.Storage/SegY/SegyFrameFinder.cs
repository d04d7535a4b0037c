namespace Undersand.Storage.SegY;

/// <summary>Finds the first trace, the extra headers and the number of samples by trying what the headers offer against the file's size.</summary>
internal sealed class SegyFrameFinder(SegySource source, byte[] binary, SegyByteOrder order, bool isRevision2, List<string> remarks)
{
    private const int BlockSize = 3200, FirstHeaders = 3600;

    /// <summary>The part of the last trace's samples that must be there for it to count as short rather than the file as truncated.</summary>
    internal const double ShortLastTrace = 0.9;

    private readonly int _sampleSize = SegyFormats.SizeOf((SegyFormat)new HeaderBytes(binary, order, BlockSize + 1).Int16At(3225));

    private HeaderBytes Binary => new(binary, order, BlockSize + 1);

    public Frame Find()
    {
        Frame? best = null, fitting = null;
        foreach ((long firstTrace, int textHeaders) in FirstTraces())
            foreach (int extra in ExtraHeaders())
                foreach (long trailer in Trailers())
                {
                    long end = source.Length - trailer;
                    if (end - firstTrace < SegyTraceHeader.Size * (1 + extra))
                        continue;
                    foreach (int samples in SampleCounts(firstTrace, extra))
                    {
                        long traceSize = SegyTraceHeader.Size * (1 + extra) + (long)samples * _sampleSize;
                        var frame = new Frame(firstTrace, end, textHeaders, extra, samples, (int)Math.Min((end - firstTrace) / traceSize, int.MaxValue), Leftover: (end - firstTrace) % traceSize);
                        if (frame.Leftover == 0 && HeadersAgree(frame))
                            return frame;
                        if (frame.Leftover == 0)
                            fitting ??= frame with { HeadersDisagree = true };
                        best ??= frame;
                    }
                    if (Walk(firstTrace, end, extra, textHeaders) is { } walked)
                        return walked;
                }
        if (fitting is not null)
            remarks.Add("trace headers don't repeat what the first one says, so some of them may be samples");
        return fitting ?? (best is null ? throw NoSamples() : Salvage(best));
    }

    private SurveyException NoSamples() => new(source.Name, "bytes 3221–3222", "the number of samples is 0, and so are bytes 115–116 of trace 1", "write it to either");

    private IEnumerable<(long FirstTrace, int TextHeaders)> FirstTraces()
    {
        if (isRevision2 && (long)Binary.UInt64At(3521) is var offset && offset >= FirstHeaders && offset < source.Length)
            yield return (offset, (int)((offset - FirstHeaders) / BlockSize));
        int written = Binary.Int16At(3505);
        int count = written == -1 ? CountUntilEndText() : written;
        if (count > 0 && FirstHeaders + (long)count * BlockSize < source.Length)
            yield return (FirstHeaders + (long)count * BlockSize, count);
        yield return (FirstHeaders, 0);
    }

    /// <summary>Extended text headers up to and with the one that holds the stanza ((SEG:EndText)).</summary>
    private int CountUntilEndText()
    {
        byte[] block = new byte[BlockSize];
        for (int i = 0; FirstHeaders + (long)(i + 1) * BlockSize <= source.Length && i < 1000; i++)
        {
            source.ReadExactly(FirstHeaders + (long)i * BlockSize, block);
            if (SegyText.Decode(block).Replace(" ", "", StringComparison.Ordinal).Contains("((SEG:ENDTEXT))", StringComparison.OrdinalIgnoreCase))
                return i + 1;
        }
        return 0;
    }

    /// <summary>Bytes 3507: 32 bits in revision 2.0, 16 bits in 2.1; files of either kind carry the other's number.</summary>
    private IEnumerable<int> ExtraHeaders()
    {
        int narrow = Binary.Int16At(3507), wide = Binary.Int32At(3507);
        if (isRevision2 && narrow is > 0 and < 1000)
            yield return narrow;
        if (isRevision2 && wide is > 0 and < 1000 && wide != narrow)
            yield return wide;
        yield return 0;
    }

    private IEnumerable<long> Trailers()
    {
        int written = isRevision2 ? Binary.Int32At(3529) : 0;
        if (written > 0 && (long)written * BlockSize < source.Length)
            yield return (long)written * BlockSize;
        yield return 0;
        for (int i = 1; written == -1 && i <= 100 && (long)i * BlockSize < source.Length; i++)
            yield return (long)i * BlockSize;
    }

    private IEnumerable<int> SampleCounts(long firstTrace, int extra)
    {
        byte[] header = new byte[SegyTraceHeader.Size * (1 + extra)];
        source.ReadExactly(firstTrace, header);
        long extended = Binary.UInt32At(3269), trace = new SegyTraceHeader(header, order).Samples;
        long[] offered = isRevision2 ? [extended, Binary.UInt16At(3221), trace] : [Binary.UInt16At(3221), trace, extended];
        return offered.Where(n => n > 0 && n * _sampleSize <= source.Length).Select(n => (int)n).Distinct();
    }

    /// <summary>Trace headers found at a wrong stride are samples: their fields differ from the first header's.</summary>
    private bool HeadersAgree(Frame frame)
    {
        long traceSize = SegyTraceHeader.Size * (1 + frame.ExtraHeaders) + (long)frame.Samples * _sampleSize;
        byte[] first = new byte[SegyTraceHeader.Size], other = new byte[SegyTraceHeader.Size];
        source.ReadExactly(frame.FirstTrace, first);
        var expected = new HeaderBytes(first, order);
        foreach (long i in (long[])[1, 2, frame.Traces / 2, frame.Traces - 1])
        {
            if (i <= 0 || i >= frame.Traces)
                continue;
            source.ReadExactly(frame.FirstTrace + i * traceSize, other);
            var found = new HeaderBytes(other, order);
            if (found.UInt16At(115) != expected.UInt16At(115) || found.Int16At(117) != expected.Int16At(117) || Math.Abs((int)found.Int16At(29)) > 100)
                return false;
        }
        return true;
    }

    /// <summary>Follows traces of different lengths by bytes 115–116; null where that doesn't end at the file's end.</summary>
    private Frame? Walk(long firstTrace, long end, int extra, int textHeaders)
    {
        int headerSize = SegyTraceHeader.Size * (1 + extra);
        byte[] header = new byte[headerSize];
        var starts = new List<long>();
        int longest = 0, usual = Binary.UInt16At(3221);
        long at = firstTrace;
        while (at + headerSize <= end)
        {
            source.ReadExactly(at, header);
            var parsed = new SegyTraceHeader(header, order);
            long samples = parsed.Samples == 0 ? usual : parsed.Samples;
            if (samples == 0 || Math.Abs((int)parsed.Kind) > 100 || at + headerSize + samples * _sampleSize > end)
                return null;
            starts.Add(at);
            longest = Math.Max(longest, (int)samples);
            at += headerSize + samples * _sampleSize;
        }
        if (at != end || starts.Count == 0)
            return null;
        remarks.Add($"traces have different lengths, up to {longest} samples; shorter ones were filled with zeros");
        return new Frame(firstTrace, end, textHeaders, extra, longest, starts.Count, [.. starts]);
    }

    /// <summary>Nothing fits: a last trace that is a little short is filled up, anything else is refused.</summary>
    private Frame Salvage(Frame frame)
    {
        int headerSize = SegyTraceHeader.Size * (1 + frame.ExtraHeaders);
        long dataBytes = frame.Leftover - headerSize;
        bool agree = HeadersAgree(frame);
        if (frame.Traces > 0 && agree && dataBytes >= ShortLastTrace * frame.Samples * _sampleSize)
        {
            int lacks = frame.Samples - (int)(dataBytes / _sampleSize);
            remarks.Add($"the last trace lacks {lacks} of {frame.Samples} samples and was filled with zeros");
            return frame with { Traces = frame.Traces + 1, LastTraceLacks = lacks };
        }
        string traces = frame.Traces == 1 ? "1 whole trace" : $"{frame.Traces} whole traces";
        string wrong = agree
            ? $"the file is truncated: after {traces} of {frame.Samples} samples {frame.Leftover} bytes are left over, too few for another"
            : $"the number of samples, {frame.Samples}, doesn't fit the file's size of {source.Length} bytes";
        throw new SurveyException(source.Name, agree ? $"trace {frame.Traces + 1}" : "bytes 3221–3222", wrong,
            agree ? "copy it again from where it was recorded" : "write the right number of samples, or copy the file again");
    }
}
