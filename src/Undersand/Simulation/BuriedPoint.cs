namespace Undersand.Simulation;

/// <summary>A point that scatters alike at all frequencies and in all directions.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its place.</param>
/// <param name="Northing">Its place.</param>
/// <param name="Burial">Its burial.</param>
/// <param name="Material">The class it belongs to.</param>
/// <param name="ScatteringLength">√σ in metres with the sign of the echo: p_scattered = p_incident · length / r.</param>
public sealed record BuriedPoint(string Name, double Easting, double Northing, double Burial, Material Material, double ScatteringLength)
    : SceneObject(Name, Easting, Northing, Burial, Material);
