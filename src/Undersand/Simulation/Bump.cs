namespace Undersand.Simulation;

/// <summary>A Gaussian mound.</summary>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Height">Metres above the plane; negative for a scour.</param>
/// <param name="Radius">One standard deviation, metres.</param>
public sealed record Bump(double Easting, double Northing, double Height, double Radius);
