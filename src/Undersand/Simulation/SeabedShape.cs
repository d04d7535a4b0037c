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
    public Roughness? Roughness { get; init; }
}

/// <summary>Sinusoidal ripples.</summary>
/// <param name="Wavelength">Metres from crest to crest.</param>
/// <param name="Height">Metres from trough to crest.</param>
/// <param name="Azimuth">Direction across the crests, clockwise from grid north.</param>
/// <param name="Phase">At the seabed's reference place.</param>
public sealed record Ripple(double Wavelength, double Height, Angle Azimuth, Angle Phase = default);

/// <summary>A Gaussian mound.</summary>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Height">Metres above the plane; negative for a scour.</param>
/// <param name="Radius">One standard deviation, metres.</param>
public sealed record Bump(double Easting, double Northing, double Height, double Radius);

/// <summary>Isotropic Gaussian roughness with a power-law spectrum.</summary>
/// <param name="StandardDeviation">Metres.</param>
/// <param name="LongestWavelength">Metres.</param>
/// <param name="ShortestWavelength">Metres; below 0.1 m it is finer than the facets that the seabed's echo is made of.</param>
/// <param name="Exponent">γ of the two-dimensional spectrum K^−γ; 3 to 3.5 is usual for sand (from memory).</param>
public sealed record Roughness(double StandardDeviation, double LongestWavelength = 2, double ShortestWavelength = 0.1, double Exponent = 3.2);
