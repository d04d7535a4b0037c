namespace Undersand.Simulation;

/// <summary>Depth of the seabed as a sum of a plane, ripples, bumps and random roughness.</summary>
/// <param name="Easting">Where the plane has <paramref name="Depth"/>.</param>
/// <param name="Northing">Where the plane has <paramref name="Depth"/>.</param>
/// <param name="Depth">Metres below the water surface there.</param>
public sealed record SeabedShape(double Easting, double Northing, double Depth)
{
    /// <summary>Metres that the plane deepens per metre eastwards.</summary>
    public double SlopeEast { get; init; }
    /// <summary>Metres that the plane deepens per metre northwards.</summary>
    public double SlopeNorth { get; init; }
    /// <summary>Ripples and sand waves.</summary>
    public IReadOnlyList<Ripple> Ripples { get; init; } = [];
    /// <summary>Mounds and scours.</summary>
    public IReadOnlyList<Bump> Bumps { get; init; } = [];
    /// <summary>Random roughness, or null.</summary>
    public SeabedRoughness? Roughness { get; init; }
}
