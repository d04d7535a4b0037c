namespace Undersand.Simulation;

/// <summary>The way between a transducer in the water and a place in the sediment: the crossing of the seabed for which the time is least.</summary>
/// <remarks>
/// Fermat's principle taken literally: the time along two straight legs, as a function of where they meet on the smoothed, curved seabed,
/// is minimised by Newton's method in two dimensions, with steps halved while the time grows. Snell's law is not used to find the path.
/// Amplitudes are those of a ray tube through the tangent plane at the crossing.
/// </remarks>
internal sealed class FermatPath
{
    private const int MostSteps = 30;
    private const double CloseEnough = 2e-5;

    private readonly Seafloor _seafloor;
    private readonly double _slowness1, _slowness2, _c1, _c2, _z1, _z2, _densityRatio;
    private readonly BeamGain? _beam;

    public FermatPath(Seafloor seafloor, Water water, Sediment sediment, BeamGain? beam)
    {
        _seafloor = seafloor;
        _beam = beam;
        (_c1, _c2, _slowness1, _slowness2) = (water.SoundSpeed, sediment.SoundSpeed, 1 / water.SoundSpeed, 1 / sediment.SoundSpeed);
        (_z1, _z2, _densityRatio) = (water.Density * _c1, sediment.Density * _c2, water.Density / sediment.Density);
    }

    /// <summary>The leg between a transducer and a place; a straight one through water where the place is not under the smoothed seabed.</summary>
    public Leg Between(GridPoint transducer, GridPoint place)
    {
        if (place.Depth <= _seafloor.SmoothedAt(place.Easting, place.Northing) + 1e-4)
            return Straight(transducer, place);
        double de = place.Easting - transducer.Easting, dn = place.Northing - transducer.Northing;
        SurfacePoint s = _seafloor.SurfaceAt(place.Easting, place.Northing);
        double height = Math.Max(s.Depth - transducer.Depth, 1e-3), burial = place.Depth - s.Depth;
        // Small-angle refraction is where the search begins; where it ends does not depend on it.
        double part = height * _c1 / (height * _c1 + burial * _c2);
        double e = transducer.Easting + part * de, n = transducer.Northing + part * dn;
        s = _seafloor.SurfaceAt(e, n);
        double time = Time(transducer, place, e, n, s.Depth);
        for (int step = 0; step < MostSteps; step++)
        {
            (double stepE, double stepN) = NewtonStep(transducer, place, e, n, s);
            double length = Math.Abs(stepE) + Math.Abs(stepN);
            if (length < CloseEnough)
                break;
            double newTime = double.PositiveInfinity;
            for (int halving = 0; halving < 12; halving++)
            {
                SurfacePoint t = _seafloor.SurfaceAt(e + stepE, n + stepN);
                newTime = Time(transducer, place, e + stepE, n + stepN, t.Depth);
                if (newTime <= time + 1e-15)
                {
                    (e, n, s) = (e + stepE, n + stepN, t);
                    break;
                }
                (stepE, stepN, length) = (0.5 * stepE, 0.5 * stepN, 0.5 * length);
            }
            if (newTime > time + 1e-15)
                break;
            time = newTime;
            if (length < 2e-4 && step > 0)
                break;
        }
        return Finish(transducer, place, e, n, s, time);
    }

    private Leg Straight(GridPoint transducer, GridPoint place)
    {
        double e = place.Easting - transducer.Easting, n = place.Northing - transducer.Northing, d = place.Depth - transducer.Depth;
        double r = Math.Max(Math.Sqrt(e * e + n * n + d * d), 1e-6), gain = _beam?.At(d / r) ?? 1;
        return new Leg(r * _slowness1, r, 0, e / r, n / r, d / r, gain / r, gain / r, 1, 1);
    }

    private double Time(GridPoint a, GridPoint b, double e, double n, double z)
    {
        double ae = e - a.Easting, an = n - a.Northing, ad = z - a.Depth, be = e - b.Easting, bn = n - b.Northing, bd = z - b.Depth;
        return Math.Sqrt(ae * ae + an * an + ad * ad) * _slowness1 + Math.Sqrt(be * be + bn * bn + bd * bd) * _slowness2;
    }

    /// <summary>−H⁻¹g of the time as a function of the crossing; down the slope where the curvature is not positive.</summary>
    private (double East, double North) NewtonStep(GridPoint a, GridPoint b, double e, double n, SurfacePoint s)
    {
        double ge = 0, gn = 0, hee = 0, hnn = 0, hen = 0;
        AddLeg(e - a.Easting, n - a.Northing, s.Depth - a.Depth, _slowness1, s, ref ge, ref gn, ref hee, ref hnn, ref hen);
        AddLeg(e - b.Easting, n - b.Northing, s.Depth - b.Depth, _slowness2, s, ref ge, ref gn, ref hee, ref hnn, ref hen);
        double determinant = hee * hnn - hen * hen;
        if (determinant > 0 && hee > 0)
            return ((-hnn * ge + hen * gn) / determinant, (hen * ge - hee * gn) / determinant);
        double scale = 0.05 / Math.Max(Math.Sqrt(ge * ge + gn * gn), 1e-12);
        return (-scale * ge, -scale * gn);
    }

    private static void AddLeg(double de, double dn, double dd, double slowness, SurfacePoint s,
        ref double ge, ref double gn, ref double hee, ref double hnn, ref double hen)
    {
        double inverse = 1 / Math.Sqrt(de * de + dn * dn + dd * dd), w = slowness * inverse;
        double pe = de + dd * s.SlopeEast, pn = dn + dd * s.SlopeNorth, qe = pe * inverse, qn = pn * inverse;
        ge += w * pe;
        gn += w * pn;
        hee += w * (1 + s.SlopeEast * s.SlopeEast + dd * s.CurvatureEast - qe * qe);
        hnn += w * (1 + s.SlopeNorth * s.SlopeNorth + dd * s.CurvatureNorth - qn * qn);
        hen += w * (s.SlopeEast * s.SlopeNorth + dd * s.Twist - qe * qn);
    }

    private Leg Finish(GridPoint a, GridPoint b, double e, double n, SurfacePoint s, double time)
    {
        double ae = e - a.Easting, an = n - a.Northing, ad = s.Depth - a.Depth, be = b.Easting - e, bn = b.Northing - n, bd = b.Depth - s.Depth;
        double r1 = Math.Sqrt(ae * ae + an * an + ad * ad), r2 = Math.Max(Math.Sqrt(be * be + bn * bn + bd * bd), 1e-9);
        double normal = 1 / Math.Sqrt(1 + s.SlopeEast * s.SlopeEast + s.SlopeNorth * s.SlopeNorth);
        double cos1 = Math.Clamp((ad - s.SlopeEast * ae - s.SlopeNorth * an) * normal / r1, 1e-3, 1);
        double cos2 = Math.Clamp((bd - s.SlopeEast * be - s.SlopeNorth * bn) * normal / r2, 1e-3, 1);
        double inward = 2 * _z2 * cos1 / (_z2 * cos1 + _z1 * cos2) * (_beam?.At(ad / r1) ?? 1)
            / SpreadingLength(r1 * cos1, r2 * cos2, cos1, cos2);
        return new Leg(time, r1, r2, be / r2, bn / r2, bd / r2, inward, inward * _densityRatio, cos1, cos2);
    }

    /// <summary>The length that takes the place of the distance in 1/r, for a ray tube that starts in water: X = h tan θ₁ + z tan θ₂, length² = X·dX/dθ₁ / tan θ₁.</summary>
    public double SpreadingLength(double h, double z, double cos1, double cos2)
    {
        double q = _c2 / _c1 * cos1 / cos2;
        return Math.Sqrt((h + z * q) * (h / (cos1 * cos1) + z * q / (cos2 * cos2)));
    }

    /// <summary>Pressure transmitted into the sediment times that transmitted back, by the law for two fluids.</summary>
    public double TransmissionBothWays(double cos1, double cos2)
    {
        double sum = _z2 * cos1 + _z1 * cos2;
        return 4 * _z1 * _z2 * cos1 * cos2 / (sum * sum);
    }

    /// <summary>Reflection coefficient of the seabed from above; its modulus is 1 beyond the critical angle.</summary>
    public double Reflection(double cos1)
    {
        double sin2 = _c2 / _c1 * Math.Sqrt(Math.Max(0, 1 - cos1 * cos1));
        if (sin2 >= 1)
            return 1;
        double cos2 = Math.Sqrt(1 - sin2 * sin2);
        return (_z2 * cos1 - _z1 * cos2) / (_z2 * cos1 + _z1 * cos2);
    }
}

/// <summary>One leg between a transducer and a place.</summary>
/// <param name="Time">Seconds.</param>
/// <param name="WaterPath">Metres in water.</param>
/// <param name="SedimentPath">Metres in sediment.</param>
/// <param name="East">Direction of arrival at the place, a unit vector pointing on.</param>
/// <param name="North">Of the same.</param>
/// <param name="Down">Of the same.</param>
/// <param name="Inward">Pressure at the place for 1 Pa at 1 m from the transducer, absorption left out.</param>
/// <param name="Outward">Pressure at the transducer for 1 Pa at 1 m from the place, absorption left out.</param>
/// <param name="CosineInWater">Of the angle to the seabed's normal, in water.</param>
/// <param name="CosineInSediment">Of the angle to the seabed's normal, in sediment.</param>
internal readonly record struct Leg(double Time, double WaterPath, double SedimentPath, double East, double North, double Down,
    double Inward, double Outward, double CosineInWater, double CosineInSediment);
