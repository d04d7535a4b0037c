namespace Undersand.Simulation;

/// <summary>A straight bar or barrel, by facets on its upper side (Kirchhoff); good where its radius is above a quarter of a wavelength or so.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Burial">Of the top at its middle.</param>
/// <param name="Material">The class it belongs to.</param>
/// <param name="Length">Metres.</param>
/// <param name="Diameter">Metres.</param>
/// <param name="Azimuth">Of its axis, clockwise from grid north.</param>
/// <param name="Reflection">Reflection coefficient of its surface in the sediment.</param>
public sealed record BuriedCylinder(string Name, double Easting, double Northing, double Burial, Material Material,
    double Length, double Diameter, Angle Azimuth, double Reflection) : SceneObject(Name, Easting, Northing, Burial, Material)
{
    /// <summary>How far the end towards <see cref="Azimuth"/> dips.</summary>
    public Angle Dip { get; init; }
}
