using Undersand.Simulation;
using Undersand.Tests.Acoustics;

namespace Undersand.Tests.Simulation;

public class FermatPathTests
{
    private static readonly Region s_region = new(-6, 6, -6, 6);

    // tests/data/checks/refraction_travel_time.csv: bisection on Snell's law with 30 digits.
    [Fact]
    public void Travel_times_through_a_flat_seabed_are_those_of_the_check_table()
    {
        int rows = 0;
        Seafloor seafloor = new(new SeabedShape(0, 0, 6), s_region, 1);
        foreach (CheckTable.Row row in CheckTable.Read("checks/refraction_travel_time.csv").Rows)
        {
            double burial = row.Number("burial_m"), x = row.Number("offset_m"), height = row.Number("altitude_m");
            FermatPath path = new(seafloor, new Water(row.Number("c1_m_s")), new Sediment(row.Number("c2_m_s"), 1950, 0), null);
            // In a direction that is no axis of the raster.
            Leg leg = path.Between(new GridPoint(0, 0, 6 - height), new GridPoint(0.6 * x, 0.8 * x, 6 + burial));
            Assert.Equal(row.Number("one_way_time_s"), leg.Time, 1e-10);
            rows++;
        }
        Assert.True(rows > 20);
    }

    [Fact]
    public void No_crossing_of_a_bumpy_seabed_is_quicker_than_the_one_found()
    {
        SeabedShape shape = new(0, 0, 6) { SlopeEast = 0.1, SlopeNorth = -0.06, Ripples = [new Ripple(1.5, 0.08, Angle.FromDegrees(30))], Bumps = [new Bump(0.5, 0.2, 0.15, 0.6)] };
        Seafloor seafloor = new(shape, s_region, 1);
        FermatPath path = new(seafloor, new Water(1500), new Sediment(1650, 1950, 0), null);
        RandomStream random = new(7);
        for (int i = 0; i < 40; i++)
        {
            GridPoint a = new(random.Uniform(-1, 1), random.Uniform(-1, 1), 5), b = Below(seafloor, random.Uniform(-1.5, 1.5), random.Uniform(-1.5, 1.5), random.Uniform(0.1, 2));
            Assert.Equal(Searched(seafloor, a, b), path.Between(a, b).Time, 2e-9);
        }
    }

    [Fact]
    public void A_leg_expanded_about_a_near_one_is_within_a_tenth_of_a_microsecond()
    {
        Seafloor seafloor = new(new SeabedShape(0, 0, 6) { SlopeEast = 0.03 }, s_region, 1);
        FermatPath path = new(seafloor, new Water(1500), new Sediment(1650, 1950, 0), null);
        RandomStream random = new(11);
        for (int i = 0; i < 200; i++)
        {
            GridPoint a = new(0, 0, 5.1), middle = Below(seafloor, random.Uniform(-1.5, 1.5), random.Uniform(-1.5, 1.5), random.Uniform(0.3, 2));
            GridPoint near = new(middle.Easting + random.Uniform(-0.05, 0.05), middle.Northing + random.Uniform(-0.05, 0.05), middle.Depth + random.Uniform(-0.05, 0.05));
            Leg exact = path.Between(a, near), expanded = new LocalLeg(path.Between(a, middle), middle, 1500, 1650).To(near);
            Assert.Equal(exact.Time, expanded.Time, 1e-7);
            Assert.Equal(exact.Inward, expanded.Inward, 0.02 * exact.Inward);
            Assert.Equal(exact.East, expanded.East, 0.02);
        }
    }

    [Fact]
    public void Pressure_falls_as_the_width_of_the_tube_between_two_rays_grows()
    {
        Seafloor seafloor = new(new SeabedShape(0, 0, 6), s_region, 1);
        FermatPath path = new(seafloor, new Water(1500), new Sediment(1650, 1950, 0), null);
        // Numerically: two rays a little apart in angle bound a tube; its width at the place gives the length.
        foreach (double theta in new[] { 0.2, 0.6, 0.95 })
        {
            double h = 0.9, z = 1.1, X = Offset(theta), width = (Offset(theta + 1e-5) - Offset(theta - 1e-5)) / 2e-5;
            Leg leg = path.Between(new GridPoint(0, 0, 6 - h), new GridPoint(X, 0, 6 + z));
            double sin2 = 1.1 * Math.Sin(theta), cos2 = Math.Sqrt(1 - sin2 * sin2), Z1 = 1025 * 1500, Z2 = 1950 * 1650;
            double T = 2 * Z2 * Math.Cos(theta) / (Z2 * Math.Cos(theta) + Z1 * cos2);
            Assert.Equal(T * Math.Sqrt(Math.Tan(theta) / (X * width)), leg.Inward, 1e-5);

            double Offset(double t) => h * Math.Tan(t) + z * Math.Tan(Math.Asin(1.1 * Math.Sin(t)));
        }
    }

    private static GridPoint Below(Seafloor seafloor, double e, double n, double burial) => new(e, n, seafloor.SmoothedAt(e, n) + burial);

    /// <summary>The least time by brute force: a grid of crossings, made finer about the best, again and again.</summary>
    private static double Searched(Seafloor seafloor, GridPoint a, GridPoint b)
    {
        double e = 0.5 * (a.Easting + b.Easting), n = 0.5 * (a.Northing + b.Northing), best = double.MaxValue;
        for (double size = 2; size > 1e-5; size *= 0.3)
        {
            (double atE, double atN) = (e, n);
            for (int i = -8; i <= 8; i++)
                for (int j = -8; j <= 8; j++)
                {
                    double x = atE + size * i / 8, y = atN + size * j / 8;
                    GridPoint c = new(x, y, seafloor.SmoothedAt(x, y));
                    double time = a.DistanceTo(c) / 1500 + c.DistanceTo(b) / 1650;
                    if (time < best)
                        (best, e, n) = (time, x, y);
                }
        }
        return best;
    }
}
