namespace Undersand;

/// <summary>How good a survey line is, measured in its own recordings.</summary>
public sealed record LineQuality
{
    /// <summary>The recording's file name.</summary>
    public required string Name { get; init; }
    /// <summary>Pings in the recording.</summary>
    public required int Pings { get; init; }
    /// <summary>Pings used for imaging.</summary>
    public required int PingsUsed { get; init; }
    /// <summary>Receivers of a ping, and the numbers of those left out as dead.</summary>
    public required int Receivers { get; init; }
    /// <summary>Numbers of the receivers left out as dead.</summary>
    public required IReadOnlyList<int> DeadReceivers { get; init; }
    /// <summary>Standard deviation of the noise in a compressed trace, in the recording's units (median over receivers).</summary>
    public required double NoiseLevel { get; init; }
    /// <summary>Seabed echo over noise, dB (median over pings).</summary>
    public required double SeabedSnrDb { get; init; }
    /// <summary>Mean height of the source above the seabed, metres.</summary>
    public required double MeanHeight { get; init; }
    /// <summary>Mean speed over ground, m/s; null where times don't tell.</summary>
    public double? MeanSpeed { get; init; }
    /// <summary>Median distance between pings, metres.</summary>
    public required double PingSpacing { get; init; }
    /// <summary>Length along the track, metres.</summary>
    public required double Length { get; init; }
    /// <summary>Traces left out: silent.</summary>
    public int DropOuts { get; init; }
    /// <summary>Traces with clipped samples.</summary>
    public int ClippedTraces { get; init; }
    /// <summary>Pings with a burst of another sound; left out, unless most of the line is so.</summary>
    public int Bursts { get; init; }
    /// <summary>Tones removed, hertz.</summary>
    public IReadOnlyList<double> TonesRemoved { get; init; } = [];
    /// <summary>Pings whose seabed was not found and was bridged from its neighbours.</summary>
    public int SeabedBridged { get; init; }
}
