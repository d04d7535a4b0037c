namespace Undersand;

/// <summary>A map: values on a grid aligned with easting and northing. NaN is “no data”.</summary>
/// <remarks>Value (0, 0) is centred on the origin; row <c>iy</c> goes north: <c>Values[iy * CountX + ix]</c>.</remarks>
/// <param name="OriginEasting">Easting of the centre of column 0.</param>
/// <param name="OriginNorthing">Northing of the centre of row 0.</param>
/// <param name="Spacing">Metres between values.</param>
/// <param name="CountX">Columns.</param>
/// <param name="CountY">Rows.</param>
/// <param name="Values">The values, row by row from the south.</param>
public sealed record Raster(double OriginEasting, double OriginNorthing, double Spacing, int CountX, int CountY, float[] Values)
{
    /// <summary>The value at a place by bilinear interpolation, clamped to the edge; NaN where a neighbour is NaN.</summary>
    public double At(double easting, double northing)
    {
        double x = Math.Clamp((easting - OriginEasting) / Spacing, 0, CountX - 1), y = Math.Clamp((northing - OriginNorthing) / Spacing, 0, CountY - 1);
        int ix = Math.Min((int)x, Math.Max(CountX - 2, 0)), iy = Math.Min((int)y, Math.Max(CountY - 2, 0));
        int right = Math.Min(ix + 1, CountX - 1), up = Math.Min(iy + 1, CountY - 1);
        double fx = x - ix, fy = y - iy;
        double south = Values[iy * CountX + ix] * (1 - fx) + Values[iy * CountX + right] * fx;
        double north = Values[up * CountX + ix] * (1 - fx) + Values[up * CountX + right] * fx;
        return south * (1 - fy) + north * fy;
    }

    /// <summary>The values that <see cref="At"/> reads anywhere in a box and a margin around it, row by row from the south.</summary>
    public IEnumerable<float> Around(double west, double south, double east, double north, double margin)
    {
        int left = Column(west - margin - OriginEasting, CountX), right = Column(east + margin - OriginEasting + Spacing, CountX);
        for (int y = Column(south - margin - OriginNorthing, CountY); y <= Column(north + margin - OriginNorthing + Spacing, CountY); y++)
            for (int x = left; x <= right; x++)
                yield return Values[y * CountX + x];
    }

    private int Column(double from, int count) => (int)Math.Clamp(Math.Floor(from / Spacing), 0, count - 1);
}
