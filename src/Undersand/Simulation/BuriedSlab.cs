namespace Undersand.Simulation;

/// <summary>A board, beam or slab: its top by facets, its underside by facets of the other sign that answer later.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Burial">Of the top at its middle.</param>
/// <param name="Material">The class it belongs to.</param>
/// <param name="Length">Metres along <paramref name="Azimuth"/>.</param>
/// <param name="Width">Metres across it.</param>
/// <param name="Thickness">Metres.</param>
/// <param name="Azimuth">Of its long side, clockwise from grid north.</param>
/// <param name="Reflection">Reflection coefficient of its top in the sediment; negative for wood.</param>
/// <param name="SoundSpeed">m/s inside.</param>
public sealed record BuriedSlab(string Name, double Easting, double Northing, double Burial, Material Material,
    double Length, double Width, double Thickness, Angle Azimuth, double Reflection, double SoundSpeed) : SceneObject(Name, Easting, Northing, Burial, Material)
{
    /// <summary>How far the end towards <see cref="Azimuth"/> dips.</summary>
    public Angle Dip { get; init; }
}
