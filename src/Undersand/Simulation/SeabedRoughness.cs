namespace Undersand.Simulation;

/// <summary>Isotropic Gaussian roughness with a power-law spectrum.</summary>
/// <param name="StandardDeviation">Metres.</param>
/// <param name="LongestWavelength">Metres.</param>
/// <param name="ShortestWavelength">Metres; below 0.1 m it is finer than the facets that the seabed's echo is made of.</param>
/// <param name="Exponent">γ of the two-dimensional spectrum K^−γ; 3 to 3.5 is usual for sand (from memory).</param>
public sealed record SeabedRoughness(double StandardDeviation, double LongestWavelength = 2, double ShortestWavelength = 0.1, double Exponent = 3.2);
