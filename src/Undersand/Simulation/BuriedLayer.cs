namespace Undersand.Simulation;

/// <summary>A reflecting surface in the sediment, the same sediment above and below, seen by its mirror reflection alone.</summary>
/// <param name="Easting">Where it has <paramref name="Burial"/>.</param>
/// <param name="Northing">Where it has <paramref name="Burial"/>.</param>
/// <param name="Burial">Metres below the seabed's plane there.</param>
/// <param name="Reflection">Reflection coefficient.</param>
public sealed record BuriedLayer(double Easting, double Northing, double Burial, double Reflection)
{
    /// <summary>Metres that it deepens per metre eastwards, against the water surface.</summary>
    public double SlopeEast { get; init; }
    /// <summary>Metres that it deepens per metre northwards, against the water surface.</summary>
    public double SlopeNorth { get; init; }
    /// <summary>Undulations on it, or none.</summary>
    public IReadOnlyList<Ripple> Undulations { get; init; } = [];
}
