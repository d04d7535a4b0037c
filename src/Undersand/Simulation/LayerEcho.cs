namespace Undersand.Simulation;

/// <summary>The mirror reflection from a layer: the place on it for which the whole time is stationary.</summary>
internal sealed class LayerEcho(BuriedLayer layer, Seafloor seafloor, FermatPath path, Water water, Sediment sediment)
{
    private const int MostSteps = 25;
    private readonly double _depth = seafloor.PlaneAt(layer.Easting, layer.Northing) + layer.Burial;

    /// <summary>Depth of the layer below the water surface.</summary>
    public double DepthAt(double easting, double northing) => _depth + layer.SlopeEast * (easting - layer.Easting)
        + layer.SlopeNorth * (northing - layer.Northing) + Seafloor.Waves(layer.Undulations, easting - layer.Easting, northing - layer.Northing);

    /// <summary>Adds the reflection at a receiver, if there is one in the sediment.</summary>
    public void Add(GridPoint source, GridPoint receiver, TraceBuilder trace)
    {
        double e = 0.5 * (source.Easting + receiver.Easting), n = 0.5 * (source.Northing + receiver.Northing);
        for (int step = 0; step < MostSteps; step++)
        {
            GridPoint place = new(e, n, DepthAt(e, n));
            if (place.Depth < seafloor.SmoothedAt(e, n) + 0.03)
                return;
            Leg a = path.Between(source, place), b = path.Between(receiver, place);
            (double de, double dn) = Step(a, b, e, n);
            if (Math.Abs(de) + Math.Abs(dn) > 1e-5 && step < MostSteps - 1)
            {
                e += Math.Clamp(de, -0.3, 0.3);
                n += Math.Clamp(dn, -0.3, 0.3);
                continue;
            }
            double cos1 = 0.5 * (a.CosineInWater + b.CosineInWater), cos2 = 0.5 * (a.CosineInSediment + b.CosineInSediment);
            double length = path.SpreadingLength((a.WaterPath + b.WaterPath) * cos1, (a.SedimentPath + b.SedimentPath) * cos2, cos1, cos2);
            trace.AddPoint(a.Time + b.Time, layer.Reflection * path.TransmissionBothWays(cos1, cos2) / length, a.SedimentPath + b.SedimentPath);
            return;
        }
    }

    /// <summary>Newton's step for the stationary place, with the wavefronts' curvature from their lengths and the layer's by differences.</summary>
    private (double East, double North) Step(Leg a, Leg b, double e, double n)
    {
        const double d = 0.01;
        double z = DepthAt(e, n), east = DepthAt(e + d, n), west = DepthAt(e - d, n), north = DepthAt(e, n + d), south = DepthAt(e, n - d);
        double down = a.Down + b.Down, slopeE = (east - west) / (2 * d), slopeN = (north - south) / (2 * d);
        double ge = a.East + b.East + down * slopeE, gn = a.North + b.North + down * slopeN;
        double bend = water.SoundSpeed / sediment.SoundSpeed, curve = 1 / (a.SedimentPath + a.WaterPath * bend) + 1 / (b.SedimentPath + b.WaterPath * bend);
        double hee = curve + down * (east - 2 * z + west) / (d * d), hnn = curve + down * (north - 2 * z + south) / (d * d);
        return (-ge / Math.Max(hee, 0.2 * curve), -gn / Math.Max(hnn, 0.2 * curve));
    }
}
