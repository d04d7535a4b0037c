using Undersand.Acoustics;

namespace Undersand.Simulation;

/// <summary>Something that lies in or on the sediment.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Burial">Of its top (of its middle, where it is tilted), below the seabed smoothed over 0.5 m, metres.</param>
/// <param name="Material">The class it belongs to.</param>
public abstract record SceneObject(string Name, double Easting, double Northing, double Burial, Material Material)
{
    /// <summary>True for what is there to deceive: it is listed in the truth, apart.</summary>
    public bool IsDecoy { get; init; }
}

/// <summary>A sphere, by its exact form function.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Burial">Of its top.</param>
/// <param name="Material">The class it belongs to.</param>
/// <param name="Body">Radius and stuff.</param>
public sealed record BuriedSphere(string Name, double Easting, double Northing, double Burial, Material Material, Sphere Body)
    : SceneObject(Name, Easting, Northing, Burial, Material);

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

/// <summary>Several pieces that count as one thing: an anchor, a ballast pile, a scatter of pottery, a shell bed, a cable.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Burial">Of its highest piece.</param>
/// <param name="Material">The class it belongs to.</param>
/// <param name="Length">Metres along <paramref name="Azimuth"/>.</param>
/// <param name="Width">Metres across it.</param>
/// <param name="Thickness">Metres.</param>
/// <param name="Azimuth">Of its long side, clockwise from grid north.</param>
/// <param name="Parts">The pieces, each with its own place.</param>
public sealed record BuriedGroup(string Name, double Easting, double Northing, double Burial, Material Material,
    double Length, double Width, double Thickness, Angle Azimuth, IReadOnlyList<SceneObject> Parts) : SceneObject(Name, Easting, Northing, Burial, Material);

/// <summary>A point that scatters alike at all frequencies and in all directions.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its place.</param>
/// <param name="Northing">Its place.</param>
/// <param name="Burial">Its burial.</param>
/// <param name="Material">The class it belongs to.</param>
/// <param name="ScatteringLength">√σ in metres with the sign of the echo: p_scattered = p_incident · length / r.</param>
public sealed record BuriedPoint(string Name, double Easting, double Northing, double Burial, Material Material, double ScatteringLength)
    : SceneObject(Name, Easting, Northing, Burial, Material);
