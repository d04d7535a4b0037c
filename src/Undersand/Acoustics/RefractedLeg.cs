namespace Undersand.Acoustics;

/// <summary>One leg between a place in the water and a buried point, refracted at a plane seabed.</summary>
/// <param name="Time">One-way travel time, seconds.</param>
/// <param name="CrossingOffset">Horizontal distance from the place in the water to where the ray crosses the seabed, metres.</param>
/// <param name="SineInWater">Sine of the angle from the seabed's normal, in the water.</param>
/// <param name="CosineInWater">Its cosine.</param>
/// <param name="SineInSediment">Sine of the angle from the normal in the sediment; for a point on the seabed seen from beyond the critical angle it exceeds 1 (no ray goes on).</param>
/// <param name="CosineInSediment">Its cosine; 0 where the sine exceeds 1.</param>
/// <param name="WaterLength">Length of the ray in the water, metres.</param>
/// <param name="SedimentLength">Length of the ray in the sediment, metres.</param>
public readonly record struct RefractedLeg(
    double Time,
    double CrossingOffset,
    double SineInWater,
    double CosineInWater,
    double SineInSediment,
    double CosineInSediment,
    double WaterLength,
    double SedimentLength);
