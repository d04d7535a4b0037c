using System.Runtime.Intrinsics;
using Undersand.Imaging.Focusing;
using Undersand.Tests.Acoustics;
using static Undersand.Tests.Imaging.Focusing.FocusScenes;

namespace Undersand.Tests.Imaging.Focusing;

public class PathTimeTests
{
    // tests/data/checks/refraction_travel_time.csv: bisection on Snell's law with 30 digits. All rows within 50° of the normal in the water.
    [Theory, InlineData(false), InlineData(true)]
    public void Leg_times_are_those_of_the_table_to_a_microsecond(bool refine)
    {
        const double Interval = 1e-6;
        var times = new LegTimes(1500, 1650, Interval, refine);
        int rows = 0;
        foreach (CheckTable.Row row in CheckTable.Read("checks/refraction_travel_time.csv").Rows)
        {
            if (row.Number("incidence_deg") > 50)
                continue;
            Vector256<float> t = times.At(
                Vector256.Create((float)row.Number("altitude_m")), Vector256.Create((float)row.Number("burial_m")), Vector256.Create((float)Math.Pow(row.Number("offset_m"), 2)));
            Assert.Equal(row.Number("one_way_time_s"), t[0] * Interval, 1e-8);
            rows++;
        }
        Assert.True(rows > 50, $"{rows} rows");
    }

    // 1 / (11 · 14 kHz) = 6.5 µs a sample: 10⁻³ sample is 6.5 ns.
    [Theory, InlineData(1450, 1470), InlineData(1500, 1650), InlineData(1507, 1731), InlineData(1500, 1875), InlineData(1500, 1995)]
    public void Polynomials_are_within_a_thousandth_of_a_sample_of_the_exact_ray_or_are_made_finer(double c1, double c2)
    {
        var settings = new FocusSettings(c1, c2);
        var grid = new VoxelGrid(0, 0, 0.05, 8, 8, 60, 0.05);
        var surface = new PlaneSurface(0, 0, 5);
        foreach (double height in (double[])[0.6, 1.0, 3.5])
        {
            var at = new GridPoint(0, 0, 5 - height);
            var echoes = new EchoSet(Carrier, Interval, 4, new Angle(0), [0], [at], [at], new float[8]);
            var plan = new VectorPlan(grid, new TileColumns(grid, new TileIndex(0, 0), surface), echoes, settings, new Aperture(settings, grid));
            TestContext.Current.SendDiagnosticMessage($"c2/c1 {c2 / c1:0.00} height {height}: {plan.Panels.Length} panels, refined {plan.Refine}, {plan.GreatestError:e1} sample");
            Assert.InRange(plan.GreatestError, 1e-9, 1e-3);
        }
    }

    // A vehicle that dives and climbs, on each kind of bottom.
    [Theory, InlineData(0.3, 1.5), InlineData(0.5, 4), InlineData(0.9, 12)]
    public void One_set_of_polynomials_serves_all_heights_of_a_run(double least, double greatest)
    {
        var grid = new VoxelGrid(0, 0, 0.05, 8, 8, 60, 0.05);
        GridPoint[] places = [new(0, 0, 20 - least), new(0, 0, 20 - greatest)];
        var echoes = new EchoSet(Carrier, Interval, 4, new Angle(0), [0, 0], places, places, new float[16]);
        foreach (double c2 in (double[])[1470, 1650, 1875])
        {
            var settings = new FocusSettings(C1, c2);
            var plan = new VectorPlan(grid, new TileColumns(grid, new TileIndex(0, 0), new PlaneSurface(0, 0, 20)), echoes, settings, new Aperture(settings, grid));
            TestContext.Current.SendDiagnosticMessage($"heights {least}–{greatest}, c2 {c2}: {plan.Panels.Length} panels, refined {plan.Refine}, {plan.GreatestError:e1} sample");
            Assert.InRange(plan.GreatestError, 1e-9, 1e-3);
        }
    }

    [Fact]
    public void Exact_paths_through_a_slope_take_the_least_time_of_all_paths()
    {
        var random = new Random(3);
        for (int n = 0; n < 12; n++)
        {
            var surface = new PlaneSurface(0, 0, 4, 0.5 * (random.NextDouble() - 0.5), 0.5 * (random.NextDouble() - 0.5));
            var grid = new VoxelGrid(0.3, -0.2, 0.05, 1, 1, 60, 0.05);
            var path = new ExactPath(new TileColumns(grid, new TileIndex(0, 0), surface), 0, new FocusSettings(C1, C2));
            var transducer = new GridPoint(2 * random.NextDouble() - 1, 2 * random.NextDouble() - 1, 2.6);
            double burial = 0.05 + 2.5 * random.NextDouble();
            // The Fermat search ends at 10⁻⁵ m of a flat minimum: some 10⁻¹³ s.
            Assert.Equal(FermatTime(transducer, VoxelAt(surface, 0.3, -0.2, burial), surface), path.LegTime(transducer, burial), 1e-11);
        }
    }

    [Fact]
    public void Linear_interpolation_errs_by_no_more_than_is_said_and_one_percent_takes_eleven_and_a_tenth_samples_a_bandwidth()
    {
        foreach (double perBandwidth in (double[])[4, 11, 12, 20])
        {
            double interval = 1 / (perBandwidth * Bandwidth), worst = 0, turn = 2 * Math.PI * 0.5 * Bandwidth * interval;
            for (double f = 0; f <= 1; f += 0.01)
            {
                (double re, double im) = (1 - f + f * Math.Cos(turn), f * Math.Sin(turn));
                worst = Math.Max(worst, double.Hypot(re - Math.Cos(f * turn), im - Math.Sin(f * turn)));
            }
            double said = EchoSet.InterpolationError(Bandwidth, interval);
            Assert.Equal(said, worst, 1e-3 * said);
            Assert.Equal(perBandwidth >= 11.1, said <= 0.01);
        }
    }
}
