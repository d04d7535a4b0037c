namespace Undersand.Acoustics;

/// <summary>How close two things may lie and still be told apart; rules for planning and for the expected blur.</summary>
/// <remarks>Textbook, from memory; the widths that an image has in truth are computed in Imaging from its own rays and replica.</remarks>
public static class Resolution
{
    /// <summary>Along the path, c/(2B), metres.</summary>
    /// <param name="soundSpeed">m/s.</param>
    /// <param name="bandwidth">B: hertz.</param>
    public static double Axial(double soundSpeed, double bandwidth) => soundSpeed / (2 * bandwidth);

    /// <summary>Along a synthetic aperture in which source and receiver move together, λR/(2L), metres.</summary>
    /// <param name="wavelength">λ: metres.</param>
    /// <param name="range">R: metres.</param>
    /// <param name="aperture">L: length of the aperture, metres.</param>
    public static double SyntheticAperture(double wavelength, double range, double aperture) => wavelength * range / (2 * aperture);

    /// <summary>From the greatest angle under which the point is seen, λ/(4 sin θ), metres: the same rule for wide angles.</summary>
    /// <param name="wavelength">λ in the medium of the point, metres.</param>
    /// <param name="halfAngle">θ: half the opening angle of the aperture, from the normal.</param>
    public static double Lateral(double wavelength, Angle halfAngle) => wavelength / (4 * Math.Sin(halfAngle.Radians));
}
