namespace Undersand.Storage.GeoPackage;

/// <summary>The seabed as points, and what was imaged as areas.</summary>
internal static class SeabedLayers
{
    // Finer is in the maps; this is for looking and for contours.
    private const double LeastSpacing = 0.5;
    private const int MostPoints = 200_000, MostCells = 1_000_000;
    private const double BurialStep = 0.5;

    public static void AddTo(GeoPackageFile file, SurveyResult result)
    {
        AddSeabed(file, result.Seabed);
        AddCoverage(file, result.CouldHaveSeen, result.ReferenceDiameter);
    }

    private static void AddSeabed(GeoPackageFile file, Raster seabed)
    {
        int step = Step(seabed, MostPoints);
        var points = from iy in Enumerable.Range(0, (seabed.CountY + step - 1) / step)
                     from ix in Enumerable.Range(0, (seabed.CountX + step - 1) / step)
                     let depth = seabed.Values[iy * step * seabed.CountX + ix * step]
                     where float.IsFinite(depth)
                     select (X: seabed.OriginEasting + ix * step * seabed.Spacing, Y: seabed.OriginNorthing + iy * step * seabed.Spacing, Depth: depth);
        file.AddFeatures(
            new("seabed", $"Seabed smoothed over 0.5 m, a point every {Math.Round(step * seabed.Spacing, 3)} m.", [Column.Real("depth_m", "below the water surface, m")]),
            "POINT", points, p => GeometryBlob.Point(file.SrsId, Math.Round(p.X, 4), Math.Round(p.Y, 4)), p => [Math.Round((double)p.Depth, 3)]);
    }

    private static void AddCoverage(GeoPackageFile file, Raster seen, double diameter)
    {
        int step = Step(seen, MostCells);
        var classes = new int[(seen.CountX + step - 1) / step, (seen.CountY + step - 1) / step];
        for (int x = 0; x < classes.GetLength(0); x++)
            for (int y = 0; y < classes.GetLength(1); y++)
                classes[x, y] = ClassOf(seen, x * step, y * step, step);
        double west = seen.OriginEasting - 0.5 * seen.Spacing, south = seen.OriginNorthing - 0.5 * seen.Spacing, edge = step * seen.Spacing;
        file.AddFeatures(
            new("coverage", "Where anything was imaged, by the burial down to which the reference sphere would have stood out; the least within each cell of " + $"{Math.Round(edge, 3)} m.",
            [
                Column.Real("seen_from_m", "the sphere would have stood out down to at least this burial, m; 0: perhaps nowhere"),
                Column.Real("seen_to_m", "and to less than this, m"),
                Column.Real("sphere_diameter_m", "diameter of the reference sphere, m"),
                Column.Real("area_m2", "area, m²"),
            ]),
            "POLYGON", RegionOutlines.Trace(classes),
            r => GeometryBlob.Polygon(file.SrsId, [.. r.Rings.Select(ring => ring.Select(c => (Math.Round(west + c.X * edge, 4), Math.Round(south + c.Y * edge, 4))).ToArray())]),
            r => [(r.Class - 1) * BurialStep, r.Class * BurialStep, diameter, Math.Round(r.Cells * edge * edge, 4)]);
    }

    // 0: not imaged, which a cell is if most of it is; else one more than the number of whole steps of burial seen everywhere in the cell.
    private static int ClassOf(Raster seen, int x0, int y0, int step)
    {
        int imaged = 0, all = 0;
        float least = float.PositiveInfinity;
        for (int y = y0; y < Math.Min(y0 + step, seen.CountY); y++)
        {
            for (int x = x0; x < Math.Min(x0 + step, seen.CountX); x++, all++)
            {
                float value = seen.Values[y * seen.CountX + x];
                if (!float.IsFinite(value))
                    continue;
                imaged++;
                least = Math.Min(least, value);
            }
        }

        return 2 * imaged < all ? 0 : 1 + (int)Math.Floor(Math.Max(least, 0) / BurialStep + 1e-6);
    }

    private static int Step(Raster raster, int most)
    {
        int step = Math.Max(1, (int)Math.Ceiling(LeastSpacing / raster.Spacing - 1e-9));
        while ((long)((raster.CountX + step - 1) / step) * ((raster.CountY + step - 1) / step) > most)
            step *= 2;
        return step;
    }
}
