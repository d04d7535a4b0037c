namespace Undersand.Simulation;

/// <summary>Facets and points in a cube of a decimetre: their travel times differ little enough to be expanded about one exact path.</summary>
internal sealed class Cluster
{
    /// <summary>Edge of the cube, metres.</summary>
    public const double Size = 0.1;

    public List<FacetElement> Facets { get; } = [];

    public List<PointElement> Points { get; } = [];

    /// <summary>The middle of its elements, for which paths are found.</summary>
    public GridPoint Middle { get; private set; }

    /// <summary>Works out the middle once all elements are in.</summary>
    public void Settle()
    {
        GridPoint first = Facets.Count > 0 ? Facets[0].Place : Points[0].Place;
        double e = 0, n = 0, d = 0, count = Facets.Count + Points.Count;
        foreach (GridPoint p in Facets.Select(f => f.Place).Concat(Points.Select(f => f.Place)))
        {
            e += p.Easting - first.Easting;
            n += p.Northing - first.Northing;
            d += p.Depth - first.Depth;
        }
        Middle = new GridPoint(first.Easting + e / count, first.Northing + n / count, first.Depth + d / count);
    }
}
