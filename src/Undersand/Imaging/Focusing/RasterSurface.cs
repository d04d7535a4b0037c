namespace Undersand.Imaging.Focusing;

/// <summary>A line's seabed held as a map of depths; slopes are central differences over one spacing of the map.</summary>
/// <param name="depths">Depths below the water surface, smoothed to the Fresnel radius already.</param>
public sealed class RasterSurface(Raster depths) : LineSurface
{
    /// <inheritdoc/>
    public override void At(double easting, double northing, out double depth, out double slopeEast, out double slopeNorth)
    {
        depth = depths.At(easting, northing);
        slopeEast = Slope(easting, northing, 0.5 * depths.Spacing, 0);
        slopeNorth = Slope(easting, northing, 0, 0.5 * depths.Spacing);
        if (double.IsNaN(slopeEast) || double.IsNaN(slopeNorth))
            depth = double.NaN;
    }

    private double Slope(double easting, double northing, double east, double north) =>
        (depths.At(easting + east, northing + north) - depths.At(easting - east, northing - north)) / depths.Spacing;
}
