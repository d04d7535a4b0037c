using System.Numerics;

namespace Undersand.Acoustics;

/// <summary>How strong sound arrives: the divergence of a ray tube through a plane seabed, with transmission and absorption.</summary>
/// <remarks>
/// Dynamic ray theory for one plane interface: pressure ∝ 1/√(cross-section of the tube), e.g. Červený, Seismic Ray Theory (2001), ch. 3
/// (from memory); written out and derived, with the reciprocity that an echo's two ways obey, in docs/science/reflection-and-transmission.md.
/// Amplitudes are of pressure re 1 m from the source. Ray theory: nothing of the lateral wave, nor of evanescent sound beyond the
/// critical angle (a point on the seabed itself gets the incident wave and its total reflection).
/// </remarks>
public static class Spreading
{
    /// <summary>
    /// Pressure that spreading alone leaves, re 1 m from a source in the water: with θ₁ and θ₂ from the normal and ν = c₂/c₁,
    /// 1/√[(h/cos θ₁ + νz/cos θ₂)(h/cos θ₁ + νz cos²θ₁/cos³θ₂)]. The first factor is the divergence out of the plane, the second in it.
    /// </summary>
    /// <param name="height">h: metres above the seabed, above 0.</param>
    /// <param name="burial">z: metres below it, 0 or more.</param>
    /// <param name="offset">x: metres along it, 0 or more.</param>
    /// <param name="c1">Sound speed in the water, m/s.</param>
    /// <param name="c2">Sound speed in the sediment, m/s.</param>
    /// <returns>1/distance where c₁ = c₂; 1/(h + z c₂/c₁) straight down. To be multiplied by the pressure transmission coefficient.</returns>
    public static double Amplitude(double height, double burial, double offset, double c1, double c2) =>
        Amplitude(Refraction.Leg(height, burial, offset, c1, c2), c1, c2);

    /// <summary>The same for a leg already found.</summary>
    /// <param name="leg">The leg.</param>
    /// <param name="c1">Sound speed in the water, m/s.</param>
    /// <param name="c2">Sound speed in the sediment, m/s.</param>
    public static double Amplitude(in RefractedLeg leg, double c1, double c2)
    {
        if (leg.SedimentLength == 0)
            return 1 / leg.WaterLength;
        double below = leg.SedimentLength * c2 / c1, bend = leg.CosineInWater / leg.CosineInSediment;
        return 1 / Math.Sqrt((leg.WaterLength + below) * (leg.WaterLength + below * bend * bend));
    }

    /// <summary>Pressure at a buried point for a source in the water that makes 1 at 1 m: spreading, transmission, absorption in water and sediment.</summary>
    /// <param name="height">h: metres above the seabed, above 0.</param>
    /// <param name="burial">z: metres below it, 0 or more.</param>
    /// <param name="offset">x: metres along it, 0 or more.</param>
    /// <param name="water">The water.</param>
    /// <param name="sediment">The sediment.</param>
    /// <param name="frequency">Hertz.</param>
    public static double LegAmplitude(double height, double burial, double offset, Water water, Sediment sediment, double frequency) =>
        LegAmplitude(Refraction.Leg(height, burial, offset, water.SoundSpeed, sediment.SoundSpeed), water, sediment, frequency);

    /// <summary>The same for a leg already found.</summary>
    /// <param name="leg">The leg.</param>
    /// <param name="water">The water.</param>
    /// <param name="sediment">The sediment.</param>
    /// <param name="frequency">Hertz.</param>
    public static double LegAmplitude(in RefractedLeg leg, Water water, Sediment sediment, double frequency) =>
        Amplitude(leg, water.SoundSpeed, sediment.SoundSpeed) * Transmission(leg, water, sediment) * Remains(leg, water, sediment, frequency);

    /// <summary>Pressure at a receiver in the water for a buried source that makes 1 at 1 m in the sediment: the way back of an echo.</summary>
    /// <remarks>
    /// By reciprocity it is <see cref="LegAmplitude(double, double, double, Water, Sediment, double)"/> × ρ₁/ρ₂: sources of equal volume
    /// acceleration are reciprocal, and one that makes unit pressure at 1 m has the less of it the denser its medium. An echo is then
    /// (way down) × (scattering length of the object in the sediment) × (way back).
    /// </remarks>
    /// <param name="height">h: metres above the seabed, above 0.</param>
    /// <param name="burial">z: metres below it, 0 or more.</param>
    /// <param name="offset">x: metres along it, 0 or more.</param>
    /// <param name="water">The water.</param>
    /// <param name="sediment">The sediment.</param>
    /// <param name="frequency">Hertz.</param>
    public static double ReturnLegAmplitude(double height, double burial, double offset, Water water, Sediment sediment, double frequency) =>
        LegAmplitude(height, burial, offset, water, sediment, frequency) * (water.Density / sediment.Density);

    /// <summary>The same for a leg already found.</summary>
    /// <param name="leg">The leg.</param>
    /// <param name="water">The water.</param>
    /// <param name="sediment">The sediment.</param>
    /// <param name="frequency">Hertz.</param>
    public static double ReturnLegAmplitude(in RefractedLeg leg, Water water, Sediment sediment, double frequency) =>
        LegAmplitude(leg, water, sediment, frequency) * (water.Density / sediment.Density);

    private static double Transmission(in RefractedLeg leg, Water water, Sediment sediment) =>
        Complex.Abs(1 + new PlaneInterface(water, sediment).ReflectionAt(leg.SineInWater, leg.CosineInWater));

    private static double Remains(in RefractedLeg leg, Water water, Sediment sediment, double frequency)
    {
        double inWater = Absorption.FrancoisGarrison(frequency, water.Temperature, water.Salinity) / 1000 * leg.WaterLength;
        double inSediment = sediment.AttenuationDbPerMetrePerKhz * (frequency / 1000) * leg.SedimentLength;
        return Math.Pow(10, -(inWater + inSediment) / 20);
    }
}
