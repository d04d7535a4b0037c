namespace Undersand.Simulation;

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
