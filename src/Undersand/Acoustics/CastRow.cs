namespace Undersand.Acoustics;

/// <summary>One row of a cast.</summary>
/// <param name="Depth">Metres below the surface.</param>
/// <param name="Temperature">°C.</param>
/// <param name="Salinity">Practical salinity.</param>
public readonly record struct CastRow(double Depth, double Temperature, double Salinity);
