namespace Undersand.Simulation;

/// <summary>How the vehicle moves about its line; each wobble is a slow random oscillation of the given standard deviation.</summary>
public sealed record Motion
{
    /// <summary>Standard deviation of the height, metres.</summary>
    public double Height { get; init; }
    /// <summary>Standard deviation of the distance from the line, metres.</summary>
    public double CrossTrack { get; init; }
    /// <summary>Standard deviation of the roll.</summary>
    public Angle Roll { get; init; }
    /// <summary>Standard deviation of the pitch.</summary>
    public Angle Pitch { get; init; }
    /// <summary>Standard deviation of the heading.</summary>
    public Angle Heading { get; init; }
    /// <summary>Seconds of the oscillations' middle period.</summary>
    public double Period { get; init; } = 6;
}
