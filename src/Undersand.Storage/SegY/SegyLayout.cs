namespace Undersand.Storage.SegY;

/// <summary>How a SEG-Y file is laid out, as found in its headers, its size and its samples.</summary>
internal sealed record SegyLayout
{
    /// <summary>The byte order of headers and samples.</summary>
    public required SegyByteOrder ByteOrder { get; init; }
    /// <summary>The format code as written in bytes 3225–3226.</summary>
    public required int FormatCode { get; init; }
    /// <summary>The format the samples really have.</summary>
    public required SegyFormat Format { get; init; }
    /// <summary>Revision as written in bytes 3501–3502: a hint, never a truth.</summary>
    public required (int Major, int Minor) Revision { get; init; }
    /// <summary>Bytes before the first trace header.</summary>
    public required long FirstTrace { get; init; }
    /// <summary>End of the last trace.</summary>
    public required long End { get; init; }
    /// <summary>Extended text headers of 3200 bytes each.</summary>
    public required int ExtendedTextHeaders { get; init; }
    /// <summary>Trace headers of 240 bytes beyond the first.</summary>
    public required int ExtraTraceHeaders { get; init; }
    /// <summary>Samples of each trace; of the longest, where lengths differ.</summary>
    public required int Samples { get; init; }
    /// <summary>Number of traces.</summary>
    public required int Traces { get; init; }
    /// <summary>Where each trace starts, where lengths differ; else null.</summary>
    public long[]? Starts { get; init; }
    /// <summary>Seconds between samples.</summary>
    public required double Interval { get; init; }
    /// <summary>Samples that the last trace lacks.</summary>
    public int LastTraceLacks { get; init; }
    /// <summary>The size fits, but trace headers are not where they must be.</summary>
    public bool HeadersDisagree { get; init; }
    /// <summary>The sweep as the binary header has it, or null.</summary>
    public Waveform? Sweep { get; init; }
    /// <summary>Sweep type code, bytes 3239–3240.</summary>
    public int SweepType { get; init; }
    /// <summary>Correlated flag, bytes 3249–3250: 1 no, 2 yes, else not said.</summary>
    public int CorrelatedFlag { get; init; }
    /// <summary>Flaws met on the way.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    /// <summary>Bytes of one sample.</summary>
    public int SampleSize => SegyFormats.SizeOf(Format);
    /// <summary>Bytes of all headers of a trace.</summary>
    public int HeaderSize => SegyTraceHeader.Size * (1 + ExtraTraceHeaders);
    /// <summary>Bytes of a trace with its headers.</summary>
    public long TraceSize => HeaderSize + (long)Samples * SampleSize;
    /// <summary>Where a trace's headers start.</summary>
    public long StartOf(int trace) => Starts is null ? FirstTrace + trace * TraceSize : Starts[trace];
    /// <summary>Samples stored of a trace.</summary>
    public int SamplesOf(int trace)
    {
        if (Starts is null)
            return trace == Traces - 1 ? Samples - LastTraceLacks : Samples;
        long end = trace + 1 < Starts.Length ? Starts[trace + 1] : End;
        return (int)((end - Starts[trace] - HeaderSize) / SampleSize);
    }
}
