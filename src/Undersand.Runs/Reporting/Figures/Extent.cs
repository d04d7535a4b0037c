namespace Undersand.Runs.Reporting;

/// <summary>A piece of the ground, metres in the survey's reference system.</summary>
internal readonly record struct Extent(double West, double South, double East, double North)
{
    public double Width => East - West;
    public double Height => North - South;

    public static Extent Nothing => new(double.PositiveInfinity, double.PositiveInfinity, double.NegativeInfinity, double.NegativeInfinity);

    public bool IsEmpty => !(Width >= 0 && Height >= 0);

    public Extent With(double easting, double northing) => double.IsFinite(easting) && double.IsFinite(northing)
        ? new(Math.Min(West, easting), Math.Min(South, northing), Math.Max(East, easting), Math.Max(North, northing))
        : this;

    public Extent With(Extent o) => o.IsEmpty ? this : With(o.West, o.South).With(o.East, o.North);

    public Extent Grown(double by) => new(West - by, South - by, East + by, North + by);

    public bool Holds(double easting, double northing) => easting >= West && easting <= East && northing >= South && northing <= North;

    /// <summary>Where a raster has data.</summary>
    public static Extent OfData(Raster raster)
    {
        int x0 = int.MaxValue, x1 = -1, y0 = int.MaxValue, y1 = -1;
        for (int y = 0; y < raster.CountY; y++)
        {
            ReadOnlySpan<float> row = raster.Values.AsSpan(y * raster.CountX, raster.CountX);
            int first = 0, last = row.Length - 1;
            while (first < row.Length && !float.IsFinite(row[first]))
                first++;
            if (first == row.Length)
                continue;
            while (!float.IsFinite(row[last]))
                last--;
            (x0, x1, y0, y1) = (Math.Min(x0, first), Math.Max(x1, last), Math.Min(y0, y), y);
        }
        if (x1 < 0)
            return Nothing;
        double s = raster.Spacing;
        return new(raster.OriginEasting + (x0 - 0.5) * s, raster.OriginNorthing + (y0 - 0.5) * s, raster.OriginEasting + (x1 + 0.5) * s, raster.OriginNorthing + (y1 + 0.5) * s);
    }

    /// <summary>All that a survey's map should show.</summary>
    public static Extent Of(SurveyResult result)
    {
        Extent extent = OfData(result.GreatestProbability).With(OfData(result.CouldHaveSeen));
        foreach (LineResult line in result.Lines)
            foreach (PingResult ping in line.Pings)
                extent = extent.With(ping.Source.Easting, ping.Source.Northing);
        foreach (Target t in result.Targets)
        {
            extent = extent.With(t.Position.Easting, t.Position.Northing);
            if (t.Alternative is GridPoint a)
                extent = extent.With(a.Easting, a.Northing);
        }
        if (extent.IsEmpty)
            extent = new(result.Grid.OriginEasting, result.Grid.OriginNorthing, result.Grid.EastingAt(result.Grid.CountX), result.Grid.NorthingAt(result.Grid.CountY));
        return extent.Grown(Math.Max(1, 0.03 * Math.Max(extent.Width, extent.Height)));
    }
}
