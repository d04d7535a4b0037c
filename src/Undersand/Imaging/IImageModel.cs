namespace Undersand.Imaging;

/// <summary>What the image of a point looks like, and from where it was seen: what Detection needs to know of the imaging.</summary>
public interface IImageModel
{
    /// <summary>How a point at this place is blurred in one line's image.</summary>
    Blur BlurAt(int line, double easting, double northing, double burial);

    /// <summary>From where the line saw this column; null where it never did.</summary>
    Viewpoint? ViewAt(int line, double easting, double northing);

    /// <summary>Depth below the water surface of the seabed smoothed over 0.5 m; burial counts from it.</summary>
    double SeabedDepthAt(double easting, double northing);

    /// <summary>Standard deviation (root mean square of |amplitude|) that the recorded noise alone gives in the image of a line, in the unit of <see cref="LookSums"/>.</summary>
    double NoiseAt(int line, double easting, double northing, double burial);

    /// <summary>The seabed's own reflection coefficient here, times the unit of <see cref="LookSums"/> per metre (1 where calibrated): its echo's amplitude times twice the height. Null where not clear.</summary>
    double? SeabedReflectionAt(int line, double easting, double northing);

    /// <summary>Spectrum of a line's compressed pulse.</summary>
    PulseSpectrum PulseOf(int line);

    /// <summary>How strongly a body at one place shows at another in a line's image, by the array's sidelobes and repeats and by its own ringing: greatest amplitude there over the body's.</summary>
    double LeakAt(int line, in BuriedPlace from, in BuriedPlace to);
}

/// <summary>Full widths at −6 dB of the amplitude of a point's image, metres.</summary>
/// <param name="Along">Along the track.</param>
/// <param name="Across">Across the track; as wide as the image where the line alone can't tell.</param>
/// <param name="Burial">In burial.</param>
public readonly record struct Blur(double Along, double Across, double Burial);

/// <summary>How a line passed a column.</summary>
/// <param name="Height">Height of the source above the seabed at the nearest ping, metres.</param>
/// <param name="VehicleDepth">Depth of the source below the water surface there, metres.</param>
/// <param name="TrackAzimuth">Direction of the track there.</param>
/// <param name="AcrossOffset">Distance of the column from the track, positive to starboard, metres.</param>
/// <param name="AcrossAperture">Width across the track that the receivers span, metres; 0 for one receiver.</param>
public readonly record struct Viewpoint(double Height, double VehicleDepth, Angle TrackAzimuth, double AcrossOffset, double AcrossAperture);
