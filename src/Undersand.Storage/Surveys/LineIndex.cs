namespace Undersand.Storage.Surveys;

/// <summary>Which trace of a recording belongs to which ping and receiver, and what trace headers say of the pings. Packed: a line may have millions.</summary>
internal sealed class LineIndex
{
    /// <summary>No trace was recorded.</summary>
    public const int Missing = -1;

    /// <summary>Numbers of the receivers, rising; each ping has all of them, some perhaps missing.</summary>
    public required int[] ReceiverNumbers { get; init; }

    /// <summary>Trace of ping × receivers + receiver; <see cref="Missing"/>, or −2 − trace where it is dead.</summary>
    public required int[] TraceOf { get; init; }

    /// <summary>Ping numbers.</summary>
    public required int[] Numbers { get; init; }

    /// <summary>How often the ping's number was met before.</summary>
    public required int[] Occurrences { get; init; }

    /// <summary>Whole seconds since 1970, UTC; <see cref="long.MinValue"/> where the headers don't say.</summary>
    public required long[] Seconds { get; init; }

    /// <summary>Nanoseconds to add; −1 where the headers don't say.</summary>
    public required int[] Nanoseconds { get; init; }

    /// <summary>Seconds from the start of transmission to sample 0.</summary>
    public required double[] Delays { get; init; }

    /// <summary>Traces that hold a replica.</summary>
    public required IReadOnlyList<int> Replicas { get; init; }

    /// <summary>Traces whose source or receiver stands at easting and northing 0.</summary>
    public required int WithoutCoordinates { get; init; }

    public int PingCount => Numbers.Length;

    public int ReceiverCount => ReceiverNumbers.Length;

    /// <summary>The first trace of a ping, live or dead, for messages and positions.</summary>
    public int AnyTraceOf(int ping)
    {
        for (int i = ping * ReceiverCount; i < (ping + 1) * ReceiverCount; i++)
            if (TraceOf[i] != Missing)
                return TraceOf[i] >= 0 ? TraceOf[i] : -2 - TraceOf[i];
        throw new InvalidOperationException("a ping without traces was not dropped");
    }
}
