namespace Undersand.Storage.SegY;

/// <summary>Revisions of the standard that can be written.</summary>
public enum SegyRevision
{
    /// <summary>1975.</summary>
    Rev0,
    /// <summary>2002.</summary>
    Rev1,
    /// <summary>2017.</summary>
    Rev20,
    /// <summary>2023: with a second trace header that holds exact positions, nanoseconds and the sample interval.</summary>
    Rev21,
}

/// <summary>How a SEG-Y file is written. The defaults are what every reader understands: revision 1, IEEE floats, big-endian.</summary>
public sealed record SegyWriterSettings
{
    /// <summary>Samples of a trace.</summary>
    public required int SampleCount { get; init; }
    /// <summary>Seconds between samples. Before revision 2 only whole microseconds can be said.</summary>
    public required double SampleInterval { get; init; }
    /// <summary>The sample format.</summary>
    public SegyFormat Format { get; init; } = SegyFormat.Float32;
    /// <summary>The byte order.</summary>
    public SegyByteOrder ByteOrder { get; init; } = SegyByteOrder.BigEndian;
    /// <summary>The revision.</summary>
    public SegyRevision Revision { get; init; } = SegyRevision.Rev1;
    /// <summary>The sweep for bytes 3233–3250, or null to leave them zero.</summary>
    public Waveform? Sweep { get; init; }
    /// <summary>Whether traces are correlated already; null leaves bytes 3249–3250 zero.</summary>
    public bool? IsCorrelated { get; init; }
    /// <summary>Receivers of a ping, for bytes 3213–3214.</summary>
    public int TracesPerPing { get; init; } = 1;
    /// <summary>Lines for the text header, of up to 76 characters.</summary>
    public IReadOnlyList<string> Text { get; init; } = [];
    /// <summary>Scalar of coordinates, bytes 71–72; −1000 is millimetres. 0 takes the finest that fits each trace.</summary>
    public short CoordinateScalar { get; init; }
    /// <summary>Scalar of elevations and depths, bytes 69–70.</summary>
    public short ElevationScalar { get; init; } = -1000;
    /// <summary>Scalar of times, bytes 215–216; −10 makes the delay tenths of a millisecond. 0 takes the finest that fits each trace. Only written from revision 1 on.</summary>
    public short TimeScalar { get; init; }
}
