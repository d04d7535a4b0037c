namespace Undersand.Simulation;

/// <summary>What disturbs the recordings. Pressures are at the receivers.</summary>
public sealed record Disturbances
{
    /// <summary>Standard deviation of white noise, Pa, over the whole band up to half the sampling rate.</summary>
    public double WhiteNoise { get; init; }
    /// <summary>Standard deviation of noise that falls 6 dB per octave above 1 kHz, Pa.</summary>
    public double ColouredNoise { get; init; }
    /// <summary>Numbers, from 1, of receivers that record next to nothing and don't say so.</summary>
    public IReadOnlyList<int> SilentReceivers { get; init; } = [];
    /// <summary>Numbers, from 1, of receivers that record next to nothing and are marked dead.</summary>
    public IReadOnlyList<int> DeadReceivers { get; init; } = [];
    /// <summary>Probability that a trace drops out (all zeros).</summary>
    public double DropOuts { get; init; }
    /// <summary>Pressure at which the recorder clips, Pa; null if it never does.</summary>
    public double? ClipPressure { get; init; }
    /// <summary>Bursts of another sonar, or null.</summary>
    public OtherSonar? OtherSonar { get; init; }
    /// <summary>Steady tones.</summary>
    public IReadOnlyList<SteadyTone> Tones { get; init; } = [];
    /// <summary>Probability that a whole ping shows no echo at all (a bubble cloud, a lost trigger).</summary>
    public double LostPings { get; init; }
}
