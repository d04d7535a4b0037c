using NodaTime;
using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class MagneticResidualTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 5, 4, 10, 0);

    [Fact]
    public void A_slow_field_is_taken_off_and_a_narrow_anomaly_stays()
    {
        // A gradient of 0.1 nT/m, 0.05 nT a reading, and 40 nT over three readings: they can move the median by three places in the order, 0.15 nT.
        const double Moved = 3 * 0.05 + 1e-9;
        IReadOnlyList<MagneticPoint> points = MagneticResidual.Of([.. Enumerable.Range(0, 400).Select(i => Reading(i, 0.5 * i, 49000 + 0.05 * i + (i is >= 200 and < 203 ? 40 : 0)))]);
        Assert.All(points.Where((_, i) => i is > 60 and < 200 or > 202 and < 340), p => Assert.Equal(0, p.ResidualNanotesla, Moved));
        Assert.Equal(40, points[201].ResidualNanotesla, Moved);
    }

    [Fact]
    public void The_running_median_is_the_median_of_what_lies_within_the_window()
    {
        var random = new Random(3);
        MagnetometerReading[] readings = [.. Enumerable.Range(0, 300).Select(i => Reading(i, 0.7 * i, 49000 + 100 * random.NextDouble()))];
        IReadOnlyList<MagneticPoint> points = MagneticResidual.Of(readings);
        foreach (int i in new[] { 0, 5, 42, 150, 299 })
        {
            double[] near = [.. readings.Where(r => Math.Abs(r.Position.Easting - readings[i].Position.Easting) <= MagneticResidual.HalfWindow + 1e-6).Select(r => r.TotalFieldNanotesla).Order()];
            Assert.Equal(0.5 * (near[(near.Length - 1) / 2] + near[near.Length / 2]), points[i].MedianNanotesla, 1e-6);
        }
    }

    [Fact]
    public void A_pause_or_a_leap_begins_a_new_line_which_knows_nothing_of_the_one_before()
    {
        IReadOnlyList<MagneticPoint> points = MagneticResidual.Of([Reading(0, 0, 49000), Reading(1, 1, 49000), Reading(30, 2, 50000), Reading(31, 3, 50000), Reading(32, 60, 51000)]);
        Assert.Equal([1, 1, 2, 2, 3], points.Select(p => p.Line));
        Assert.All(points, p => Assert.Equal(0, p.ResidualNanotesla));
        Assert.Empty(MagneticResidual.Of([]));
    }

    private static MagnetometerReading Reading(int seconds, double easting, double field) => new(Start + Duration.FromSeconds(seconds), new GridPoint(easting, 0, 3), field);
}
