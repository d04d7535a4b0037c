namespace Undersand.Acoustics;

/// <summary>How wide a patch of a surface makes its echo: the first Fresnel zone.</summary>
public static class FresnelRadius
{
    /// <summary>Two-way: paths to the rim are half a wavelength longer there and back. √(λd/2 + λ²/16), exact for source and receiver in one place.</summary>
    /// <remarks>(d + λ/4)² − d², textbook (from memory).</remarks>
    /// <param name="frequency">Hertz, above 0.</param>
    /// <param name="distance">d: metres from the surface.</param>
    /// <param name="soundSpeed">m/s.</param>
    public static double TwoWay(double frequency, double distance, double soundSpeed)
    {
        double wavelength = soundSpeed / frequency;
        return Math.Sqrt(wavelength * distance / 2 + wavelength * wavelength / 16);
    }
}
