using Undersand.Acoustics;

namespace Undersand.Simulation;

/// <summary>A sphere, by its exact form function.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Burial">Of its top.</param>
/// <param name="Material">The class it belongs to.</param>
/// <param name="Body">Radius and stuff.</param>
public sealed record BuriedSphere(string Name, double Easting, double Northing, double Burial, Material Material, Sphere Body)
    : SceneObject(Name, Easting, Northing, Burial, Material);
