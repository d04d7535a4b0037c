namespace Undersand.Acoustics;

/// <summary>Sediment properties from its mean grain size M_z = −log₂(diameter in mm).</summary>
/// <remarks>
/// Density and speed: APL-UW TR 9407 (1994), section IV, for the surficial centimetres; recalled, then found to agree with all rows of its table
/// 2 (0.0011 in density, 0.0001 in speed). Attenuation: Hamilton (1972), Geophysics 37, 620–646, as quoted there. See docs/science/sediment.md.
/// </remarks>
public static class GrainSize
{
    /// <summary>The sediment of a grain size, in the manner of TR 9407.</summary>
    /// <param name="phi">M_z, −1 to 9.</param>
    /// <exception cref="ArgumentOutOfRangeException">The regressions do not reach so far.</exception>
    public static SedimentRow Surficial(double phi) => new($"grain size {phi} phi", SedimentTableKind.Surficial, DensityRatio(phi), SpeedRatio(phi), Attenuation(phi), "M", []);

    /// <summary>Density over the water's.</summary>
    /// <param name="phi">M_z, −1 to 9.</param>
    /// <exception cref="ArgumentOutOfRangeException">The regression does not reach so far.</exception>
    public static double DensityRatio(double phi) => InRange(phi) switch
    {
        < 1 => 2.3139 + phi * (-0.17057 + 0.007797 * phi),
        < 5.3 => 3.0455 + phi * (-1.1069031 + phi * (0.2290201 - 0.0165406 * phi)),
        _ => 1.1565 - 0.0012973 * phi,
    };

    /// <summary>Sound speed over the water's.</summary>
    /// <param name="phi">M_z, −1 to 9.</param>
    /// <exception cref="ArgumentOutOfRangeException">The regression does not reach so far.</exception>
    public static double SpeedRatio(double phi) => InRange(phi) switch
    {
        < 1 => 1.2778 + phi * (-0.056452 + 0.002709 * phi),
        < 5.3 => 1.3425 + phi * (-0.1382798 + phi * (0.0213937 - 0.0014881 * phi)),
        _ => 1.0019 - 0.0024324 * phi,
    };

    /// <summary>k, dB/m/kHz.</summary>
    /// <param name="phi">M_z.</param>
    public static double Attenuation(double phi) => phi switch
    {
        < 0 => 0.4556,
        < 2.6 => 0.4556 + 0.0245 * phi,
        < 4.5 => 0.1978 + 0.1245 * phi,
        < 6 => 8.0399 + phi * (-2.5228 + 0.20098 * phi),
        < 9.5 => 0.9431 + phi * (-0.2041 + 0.0117 * phi),
        _ => 0.0601,
    };

    /// <summary>Shear speed of a sediment, m/s, from its compressional speed: Hamilton (1980), JASA 68, 1313–1340. Below 1512 m/s none is given and the answer is 0.</summary>
    /// <param name="c">Compressional speed, m/s.</param>
    public static double ShearSpeed(double c) => c switch
    {
        < 1512 => 0,
        < 1555 => 3.884 * c - 5757,
        < 1650 => 1.137 * c - 1485,
        < 2150 => 991 - 1.136 * c + 0.00047 * c * c,
        _ => 0.78 * c - 962,
    };

    private static double InRange(double phi) => phi is >= -1 and <= 9
        ? phi : throw new ArgumentOutOfRangeException(nameof(phi), phi, "the regressions are for grain sizes of −1 to 9 phi");
}
