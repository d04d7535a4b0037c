namespace Undersand.Imaging.Seabed;

/// <summary>The plane through all picks of a survey, so that a slope goes on where there are none.</summary>
/// <param name="Easting">Middle of the picks.</param>
/// <param name="Northing">Middle of the picks.</param>
/// <param name="Depth">There, metres.</param>
/// <param name="SlopeEast">Metres deeper per metre.</param>
/// <param name="SlopeNorth">Metres deeper per metre.</param>
internal readonly record struct Trend(double Easting, double Northing, double Depth, double SlopeEast, double SlopeNorth)
{
    /// <summary>Picks must spread this far for a slope to be told, metres (standard deviation): less, as across one line of a narrow array, tells ripples from nothing.</summary>
    private const double LeastSpread = 0.05;

    /// <summary>By least squares, the lines' mis-ties taken out.</summary>
    public static Trend Of(GridPoint[][] picks, IReadOnlyList<double> misTies)
    {
        var all = picks.SelectMany((of, line) => of.Select(p => p with { Depth = p.Depth - misTies[line] })).ToArray();
        if (all.Length == 0)
            return default;
        double e = all.Average(p => p.Easting), n = all.Average(p => p.Northing), d = all.Average(p => p.Depth);
        double ee = 0, en = 0, nn = 0, ed = 0, nd = 0;
        foreach (var p in all)
        {
            double de = p.Easting - e, dn = p.Northing - n, dd = p.Depth - d;
            (ee, en, nn, ed, nd) = (ee + de * de, en + de * dn, nn + dn * dn, ed + de * dd, nd + dn * dd);
        }
        // Along and across the longest extent of the picks, each only where they spread enough.
        double axis = 0.5 * Math.Atan2(2 * en, ee - nn), slopeEast = 0, slopeNorth = 0;
        foreach (double angle in new[] { axis, axis + Math.PI / 2 })
        {
            var (sin, cos) = Math.SinCos(angle);
            double spread = cos * cos * ee + 2 * sin * cos * en + sin * sin * nn;
            if (spread < LeastSpread * LeastSpread * all.Length)
                continue;
            double slope = (cos * ed + sin * nd) / spread;
            (slopeEast, slopeNorth) = (slopeEast + slope * cos, slopeNorth + slope * sin);
        }
        return new Trend(e, n, d, slopeEast, slopeNorth);
    }

    /// <summary>The plane's depth at a place.</summary>
    public double At(double easting, double northing) => Depth + SlopeEast * (easting - Easting) + SlopeNorth * (northing - Northing);

    /// <summary>A map of differences from the plane made into one of depths.</summary>
    public Raster AddTo(Raster map)
    {
        for (int y = 0; y < map.CountY; y++)
            for (int x = 0; x < map.CountX; x++)
                map.Values[y * map.CountX + x] += (float)At(map.OriginEasting + x * map.Spacing, map.OriginNorthing + y * map.Spacing);
        return map;
    }
}
