namespace Undersand;

/// <summary>The recordings of one survey line, whether they lie in a file or in memory.</summary>
/// <remarks>All members may be called from several threads at once.</remarks>
public interface ISurveyLine
{
    /// <summary>The recording's file name, with its extension.</summary>
    string Name { get; }

    /// <summary>The number of pings.</summary>
    int PingCount { get; }

    /// <summary>Samples of a trace; traces that end early are filled with zeros.</summary>
    int SampleCount { get; }

    /// <summary>Seconds between samples.</summary>
    double SampleInterval { get; }

    /// <summary>True where the recording is correlated with its replica already.</summary>
    bool IsCorrelated { get; }

    /// <summary>The recorded replica of the transmitted waveform at <see cref="SampleInterval"/>, or null.</summary>
    ReadOnlyMemory<float>? Replica { get; }

    /// <summary>When and where a ping was. Cheap; the same object each time.</summary>
    Ping PingAt(int pingIndex);

    /// <summary>Reads a ping's traces, receiver by receiver, each of <see cref="SampleCount"/> samples, in the recording's units.</summary>
    /// <param name="pingIndex">From 0.</param>
    /// <param name="samples">At least receivers × samples long.</param>
    void Read(int pingIndex, Span<float> samples);
}
