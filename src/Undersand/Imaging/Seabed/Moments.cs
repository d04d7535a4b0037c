namespace Undersand.Imaging.Seabed;

/// <summary>Sums over seabed picks from which a plane is told; eastings and northings count from a place of the owner's choice.</summary>
internal readonly record struct Moments(double Count, double East, double North, double Depth, double EastEast, double EastNorth, double NorthNorth, double EastDepth, double NorthDepth)
{
    /// <summary>Picks must spread this far for a slope to be told, metres (standard deviation): less, as across one line of a narrow array, tells ripples from nothing.</summary>
    private const double LeastSpread = 0.05;

    /// <summary>Those of one pick.</summary>
    public static Moments Of(double east, double north, double depth) => new(1, east, north, depth, east * east, east * north, north * north, east * depth, north * depth);

    public static Moments operator +(in Moments a, in Moments b) => new(a.Count + b.Count, a.East + b.East, a.North + b.North, a.Depth + b.Depth,
        a.EastEast + b.EastEast, a.EastNorth + b.EastNorth, a.NorthNorth + b.NorthNorth, a.EastDepth + b.EastDepth, a.NorthDepth + b.NorthDepth);

    /// <summary>The same picks, counted from a place that lies this far west and south, and weighted.</summary>
    public Moments Moved(double east, double north, double weight) => new(
        weight * Count, weight * (East + east * Count), weight * (North + north * Count), weight * Depth,
        weight * (EastEast + 2 * east * East + east * east * Count),
        weight * (EastNorth + east * North + north * East + east * north * Count),
        weight * (NorthNorth + 2 * north * North + north * north * Count),
        weight * (EastDepth + east * Depth), weight * (NorthDepth + north * Depth));

    /// <summary>The plane through them by least squares: its depth at the place that they count from, and metres deeper per metre east and north.</summary>
    public (double Depth, double SlopeEast, double SlopeNorth) Plane()
    {
        double e = East / Count, n = North / Count, d = Depth / Count;
        double ee = EastEast / Count - e * e, en = EastNorth / Count - e * n, nn = NorthNorth / Count - n * n, ed = EastDepth / Count - e * d, nd = NorthDepth / Count - n * d;
        // Along and across the longest extent of the picks, each only where they spread enough.
        double axis = 0.5 * Math.Atan2(2 * en, ee - nn), slopeEast = 0, slopeNorth = 0;
        foreach (double angle in new[] { axis, axis + Math.PI / 2 })
        {
            var (sin, cos) = Math.SinCos(angle);
            double spread = cos * cos * ee + 2 * sin * cos * en + sin * sin * nn;
            if (spread < LeastSpread * LeastSpread)
                continue;
            double slope = (cos * ed + sin * nd) / spread;
            (slopeEast, slopeNorth) = (slopeEast + slope * cos, slopeNorth + slope * sin);
        }
        return (d - slopeEast * e - slopeNorth * n, slopeEast, slopeNorth);
    }
}
