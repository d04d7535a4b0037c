using CsCheck;
using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class RefractionTests
{
    // Bisection with 30 digits (mpmath), design checks WA-02, WA-03, WA-05.
    [Theory]
    [InlineData(0.5, 1, 0.608729622, 0.001109139909)]
    [InlineData(1, 2, 0.849095679, 0.001748915626)]
    [InlineData(3, 4, 0.797955466, 0.003461161547)]
    public void Crossing_and_time_are_those_of_bisection(double burial, double offset, double crossing, double time)
    {
        RefractedLeg leg = Refraction.Leg(0.9, burial, offset, 1500, 1650);
        Assert.Equal(crossing, leg.CrossingOffset, 1e-9);
        Assert.Equal(time, leg.Time, 1e-12);
    }

    // tests/data/checks/refraction_travel_time.csv, same method, printed to 1 ps and 1 nm.
    [Fact]
    public void Times_and_crossings_are_those_of_the_table()
    {
        int rows = 0;
        foreach (CheckTable.Row row in CheckTable.Read("checks/refraction_travel_time.csv").Rows)
        {
            RefractedLeg leg = Refraction.Leg(row.Number("altitude_m"), row.Number("burial_m"), row.Number("offset_m"), row.Number("c1_m_s"), row.Number("c2_m_s"));
            Assert.Equal(row.Number("one_way_time_s"), leg.Time, 0.6e-12);
            Assert.Equal(row.Number("crossing_from_source_m"), leg.CrossingOffset, 0.6e-9);
            Assert.Equal(row.Number("incidence_deg"), Math.Asin(leg.SineInWater) * 180 / Math.PI, 0.6e-6);
            rows++;
        }
        Assert.Equal(90, rows);
    }

    // tests/data/refraction_reference.csv, by tests/reference/refraction_reference.py: bisection with 60 digits; barely buried points, flat rays, nearly equal speeds.
    [Fact]
    public void Hard_cases_are_right_to_a_picosecond()
    {
        int rows = 0;
        foreach (CheckTable.Row row in CheckTable.Read("refraction_reference.csv").Rows)
        {
            double x = row.Number("offset_m");
            RefractedLeg leg = Refraction.Leg(row.Number("height_m"), row.Number("burial_m"), x, row.Number("c1_m_s"), row.Number("c2_m_s"));
            Assert.Equal(row.Number("time_s"), leg.Time, 1e-15 + 1e-15 * leg.Time);
            Assert.Equal(row.Number("crossing_m"), leg.CrossingOffset, 1e-13 * (1 + x));
            rows++;
        }
        Assert.Equal(240, rows);
    }

    // asin(1500/1650), design check WA-06.
    [Fact]
    public void Critical_angle_of_1500_to_1650_is_65_38_degrees() =>
        Assert.Equal(65.380023, Refraction.CriticalAngle(1500, 1650)!.Value.Degrees, 1e-6);

    [Fact]
    public void A_slower_sediment_has_no_critical_angle() => Assert.Null(Refraction.CriticalAngle(1500, 1480));

    // Law: Fermat's principle. Brute force: golden-section search for the least time over the crossing point.
    [Fact]
    public void No_other_crossing_point_is_quicker() =>
        Geometries.Sample((h, z, x, c1, c2) =>
        {
            double best = LeastTime(h, z, x, c1, c2);
            return Math.Abs(Refraction.LegTime(h, z, x, c1, c2) - best) < 1e-12;
        }, iter: 5000);

    // Law: the angles obey Snell's law and the ray ends where it should.
    [Fact]
    public void The_ray_obeys_Snell_and_arrives() =>
        Geometries.Sample((h, z, x, c1, c2) =>
        {
            RefractedLeg leg = Refraction.Leg(h, z, x, c1, c2);
            double arrival = h * leg.SineInWater / leg.CosineInWater + z * leg.SineInSediment / leg.CosineInSediment;
            return Math.Abs(leg.SineInWater / c1 - leg.SineInSediment / c2) < 1e-18 + 1e-15 / c1
                && Math.Abs(arrival - x) < 1e-10 * (1 + x)
                && Math.Abs(leg.WaterLength / c1 + leg.SedimentLength / c2 - leg.Time) < 1e-12;
        }, iter: 20_000);

    // Law: nothing arrives before the straight line at the faster speed, nor after the straight line at the slower one.
    [Fact]
    public void Time_lies_between_straight_lines_at_the_faster_and_the_slower_speed() =>
        Geometries.Sample((h, z, x, c1, c2) =>
        {
            double distance = double.Hypot(h + z, x), time = Refraction.LegTime(h, z, x, c1, c2);
            return time >= distance / Math.Max(c1, c2) - 1e-15 && time <= distance / Math.Min(c1, c2) + 1e-15;
        }, iter: 20_000);

    // Law: a path may be run the other way, with the media changed about.
    [Fact]
    public void Swapping_the_ends_changes_nothing() =>
        Geometries.Sample((h, z, x, c1, c2) =>
            Math.Abs(Refraction.LegTime(h, z, x, c1, c2) - Refraction.LegTime(z, h, x, c2, c1)) < 1e-13, iter: 20_000);

    // Law: beyond the critical angle a point just below the seabed is reached along it: x/c₂ + h√(1/c₁² − 1/c₂²), textbook head wave.
    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-6)]
    [InlineData(1e-12)]
    [InlineData(1e-300)]
    public void Far_off_and_barely_buried_the_time_is_that_of_the_lateral_wave(double burial)
    {
        double lateral = 4 / 1650.0 + 0.9 * Math.Sqrt(1 / (1500.0 * 1500) - 1 / (1650.0 * 1650));
        double time = Refraction.LegTime(0.9, burial, 4, 1500, 1650);
        Assert.InRange(time - lateral, -1e-15, burial * burial / (2 * 1650) + 1e-15);
    }

    [Theory]
    [InlineData(1e-9, 1650)]
    [InlineData(1e-12, 1650)]
    [InlineData(1e-9, 1400)]
    [InlineData(1e-300, 1400)]
    public void Within_the_critical_angle_a_vanishing_burial_is_the_path_in_water(double burial, double c2) =>
        Assert.Equal(double.Hypot(0.9, 1) / 1500, Refraction.LegTime(0.9, burial, 1, 1500, c2), 1e-12);

    [Fact]
    public void Equal_speeds_give_a_straight_line() =>
        Assert.Equal(double.Hypot(1.9, 3) / 1500, Refraction.LegTime(0.9, 1, 3, 1500, 1500), 1e-15);

    [Fact]
    public void Straight_down_the_legs_add_up() =>
        Assert.Equal(0.9 / 1500 + 2 / 1650.0, Refraction.LegTime(0.9, 2, 0, 1500, 1650), 1e-16);

    [Theory]
    [InlineData(0, 1, 1, 1500, 1650)]
    [InlineData(1, -1, 1, 1500, 1650)]
    [InlineData(1, 1, double.NaN, 1500, 1650)]
    [InlineData(1, 1, 1, 0, 1650)]
    [InlineData(1, 1, 1, 1500, double.PositiveInfinity)]
    public void Impossible_geometry_is_refused(double h, double z, double x, double c1, double c2) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Refraction.LegTime(h, z, x, c1, c2));

    internal static Gen<(double H, double Z, double X, double C1, double C2)> Geometries =>
        Gen.Select(Gen.Double[-2, 1], Gen.Double[-5, 1], Gen.Double[0, 20], Gen.Double[1400, 1600], Gen.Double[1350, 2500],
            (h, z, x, c1, c2) => (Math.Pow(10, h), Math.Pow(10, z), x, c1, c2));

    private static double LeastTime(double h, double z, double x, double c1, double c2)
    {
        double Time(double u) => double.Hypot(h, u) / c1 + double.Hypot(z, x - u) / c2;
        double a = 0, b = x, golden = (Math.Sqrt(5) - 1) / 2;
        for (int i = 0; i < 90; i++)
        {
            double left = b - golden * (b - a), right = a + golden * (b - a);
            if (Time(left) < Time(right))
                b = right;
            else
                a = left;
        }
        return Time(0.5 * (a + b));
    }
}
