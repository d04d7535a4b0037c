namespace Undersand.Detection;

/// <summary>How evidence is gathered and targets are made. Lengths in metres.</summary>
public sealed record DetectionSettings
{
    /// <summary>Least probability of a target that is listed. One in five: a reader with a day's diving wants the doubtful ones named as doubtful.</summary>
    public double ListFrom { get; init; } = 0.2;
    /// <summary>Shallowest burial at which anything is claimed: above it what is left of the seabed's own echo can't be told from a body.</summary>
    public double LeastBurial { get; init; } = 0.1;
    /// <summary>Inner radius of the ring that gives the background: outside a body of half a metre and its blur.</summary>
    public double RingInner { get; init; } = 0.7;
    /// <summary>Outer radius of the ring.</summary>
    public double RingOuter { get; init; } = 2.5;
    /// <summary>Outer radius within which a layer is followed sideways.</summary>
    public double LayerRadius { get; init; } = 1.2;
    /// <summary>Steepest dip (metre per metre) of a layer that is recognised as one: 14°.</summary>
    public double LayerSlope { get; init; } = 0.25;
    /// <summary>Thickness of the bands of burial in which the null is learnt.</summary>
    public double BandHeight { get; init; } = 0.15;
    /// <summary>Range over which the strength of objects above their background is taken as equally likely, dB.</summary>
    public double ObjectRangeDb { get; init; } = 30;
    /// <summary>Horizontal standard deviation of navigation.</summary>
    public double NavigationSd { get; init; } = 0.05;
    /// <summary>Relative standard deviation of the sediment's sound speed.</summary>
    public double SedimentSpeedRelativeSd { get; init; } = 0.03;
    /// <summary>Standard deviation of the seabed's depth.</summary>
    public double SeabedSd { get; init; } = 0.01;
    /// <summary>Standard deviation of the time of an echo, seconds.</summary>
    public double TimingSd { get; init; } = 5e-6;
    /// <summary>Most tiles worked on at once; the results don't depend on it.</summary>
    public int DegreeOfParallelism { get; init; } = Environment.ProcessorCount;
}
