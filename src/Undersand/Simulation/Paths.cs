namespace Undersand.Simulation;

/// <summary>Paths besides those to the objects.</summary>
public sealed record Paths
{
    /// <summary>Level of the direct arrival against an omnidirectional source; 0 leaves it out.</summary>
    public double Direct { get; init; } = 1;
    /// <summary>The seabed's own echo.</summary>
    public bool Seabed { get; init; } = true;
    /// <summary>Reflection coefficient of the vehicle's underside, for seabed–vehicle–seabed; 0 leaves it out.</summary>
    public double Vehicle { get; init; }
    /// <summary>Reflection coefficient of the water surface as the survey's wavelengths see it (−1 when calm); 0 leaves its ghosts out.</summary>
    public double Surface { get; init; }
}
