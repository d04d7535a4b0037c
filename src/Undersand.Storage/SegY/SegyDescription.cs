using NodaTime;

namespace Undersand.Storage.SegY;

/// <summary>What is in a SEG-Y file, in facts: for a page about it. Lengths in metres, times in seconds, as the headers say.</summary>
public sealed record SegyDescription
{
    /// <summary>The file, as the user named it.</summary>
    public required string Name { get; init; }
    /// <summary>Its size.</summary>
    public required long Bytes { get; init; }
    /// <summary>The forty lines of the text header, without what trails, empty ones left out.</summary>
    public required IReadOnlyList<string> Text { get; init; }
    /// <summary>The revision written in bytes 3501–3502: “2.1”.</summary>
    public required string Revision { get; init; }
    /// <summary>The byte order in words.</summary>
    public required string ByteOrder { get; init; }
    /// <summary>The format code of bytes 3225–3226.</summary>
    public required int FormatCode { get; init; }
    /// <summary>The format that the samples really have, in words.</summary>
    public required string Format { get; init; }
    /// <summary>Trace headers of 240 bytes that follow each trace's first.</summary>
    public required int ExtraTraceHeaders { get; init; }
    /// <summary>The traces.</summary>
    public required int Traces { get; init; }
    /// <summary>Different ping numbers among them.</summary>
    public required int Pings { get; init; }
    /// <summary>Different receiver numbers among them.</summary>
    public required int Receivers { get; init; }
    /// <summary>Traces marked dead or dummy.</summary>
    public required int DeadTraces { get; init; }
    /// <summary>Traces that record the transmitted waveform.</summary>
    public required int ReplicaTraces { get; init; }
    /// <summary>Samples of the longest trace.</summary>
    public required int Samples { get; init; }
    /// <summary>Seconds between samples; 0 where the headers don't say.</summary>
    public required double Interval { get; init; }
    /// <summary>The sweep of the binary header, or null.</summary>
    public Waveform? Sweep { get; init; }
    /// <summary>Bytes 3249–3250: 1 not correlated, 2 correlated, else not said.</summary>
    public required int CorrelatedFlag { get; init; }
    /// <summary>From the start of transmission to sample 0.</summary>
    public required SegyRange Delay { get; init; }
    /// <summary>Source eastings, as the headers have them.</summary>
    public required SegyRange SourceEasting { get; init; }
    /// <summary>Source northings.</summary>
    public required SegyRange SourceNorthing { get; init; }
    /// <summary>Source depths.</summary>
    public required SegyRange SourceDepth { get; init; }
    /// <summary>Receiver elevations, negative below the surface.</summary>
    public required SegyRange ReceiverElevation { get; init; }
    /// <summary>The earliest time of a trace; null where none is given.</summary>
    public required Instant? Earliest { get; init; }
    /// <summary>The latest time of a trace.</summary>
    public required Instant? Latest { get; init; }
    /// <summary>Traces whose samples were looked at, evenly through the file.</summary>
    public required int TracesSampled { get; init; }
    /// <summary>Least and greatest finite sample among those.</summary>
    public required SegyRange Amplitude { get; init; }
    /// <summary>Root mean square of the finite samples among those.</summary>
    public required double RootMeanSquare { get; init; }
    /// <summary>Traces among those that hold only zeros.</summary>
    public required int SilentTraces { get; init; }
    /// <summary>Traces among those with a sample that is no number.</summary>
    public required int NotFiniteTraces { get; init; }
    /// <summary>Flaws met on finding the layout.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }
}

/// <summary>From the least to the greatest of some values; both NaN where there were none.</summary>
/// <param name="Least">The least.</param>
/// <param name="Greatest">The greatest.</param>
public readonly record struct SegyRange(double Least, double Greatest)
{
    /// <summary>No values yet.</summary>
    public static SegyRange Empty => new(double.NaN, double.NaN);

    /// <summary>With one value more; one that is no number changes nothing.</summary>
    public SegyRange With(double value) => !double.IsFinite(value) ? this
        : double.IsNaN(Least) ? new(value, value)
        : new(Math.Min(Least, value), Math.Max(Greatest, value));
}
