namespace Undersand.Acoustics;

/// <summary>What a rough surface leaves of a mirror's echo.</summary>
public static class Roughness
{
    /// <summary>Rayleigh parameter P = 2 k s cos α.</summary>
    /// <remarks>Rayleigh's criterion; e.g. Ogilvy, Theory of Wave Scattering from Random Rough Surfaces (1991), ch. 1 (from memory).</remarks>
    /// <param name="frequency">Hertz.</param>
    /// <param name="rms">s: root mean square height of the roughness, metres.</param>
    /// <param name="incidence">α: from the normal.</param>
    /// <param name="soundSpeed">m/s in the medium above.</param>
    public static double RayleighParameter(double frequency, double rms, Angle incidence, double soundSpeed) =>
        2 * (2 * Math.PI * frequency / soundSpeed) * rms * Math.Cos(incidence.Radians);

    /// <summary>The coherent reflection's amplitude re a smooth surface's, e^(−P²/2): for Gaussian heights and gentle slopes (Kirchhoff).</summary>
    /// <param name="rayleighParameter">P.</param>
    public static double CoherentFactor(double rayleighParameter) => Math.Exp(-rayleighParameter * rayleighParameter / 2);
}
