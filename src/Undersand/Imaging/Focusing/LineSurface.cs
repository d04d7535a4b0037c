namespace Undersand.Imaging.Focusing;

/// <summary>The seabed as one line saw it, the surface at which its rays bend. Called from several threads.</summary>
public abstract class LineSurface
{
    /// <summary>The seabed at a place.</summary>
    /// <param name="easting">Easting, metres.</param>
    /// <param name="northing">Northing, metres.</param>
    /// <param name="depth">Depth below the water surface, metres; NaN where the line has no seabed, and nothing is imaged there.</param>
    /// <param name="slopeEast">Growth of depth per metre eastwards.</param>
    /// <param name="slopeNorth">Growth of depth per metre northwards.</param>
    public abstract void At(double easting, double northing, out double depth, out double slopeEast, out double slopeNorth);
}
