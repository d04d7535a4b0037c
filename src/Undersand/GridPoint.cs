namespace Undersand;

/// <summary>A place in the survey's projected reference system, in metres.</summary>
/// <param name="Easting">Easting.</param>
/// <param name="Northing">Northing.</param>
/// <param name="Depth">Depth below the water surface, positive downwards.</param>
public readonly record struct GridPoint(double Easting, double Northing, double Depth)
{
    /// <summary>The horizontal distance to another point.</summary>
    public double HorizontalDistanceTo(GridPoint other) =>
        Math.Sqrt((Easting - other.Easting) * (Easting - other.Easting) + (Northing - other.Northing) * (Northing - other.Northing));

    /// <summary>The straight distance to another point.</summary>
    public double DistanceTo(GridPoint other)
    {
        double e = Easting - other.Easting, n = Northing - other.Northing, d = Depth - other.Depth;
        return Math.Sqrt(e * e + n * n + d * d);
    }

    /// <summary>The point half way to another.</summary>
    public GridPoint MidpointTo(GridPoint other) =>
        new(0.5 * (Easting + other.Easting), 0.5 * (Northing + other.Northing), 0.5 * (Depth + other.Depth));
}
