using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class SoundSpeedProfileTests
{
    private static readonly SoundSpeedProfile Layered = new([new(10, 9, 34.5), new(0, 18, 33), new(4, 17, 33.2), new(6, 11, 34)]);

    [Fact]
    public void A_row_gives_the_speed_of_its_own_water()
    {
        Assert.Equal(SoundSpeed.OfSeaWater(11, 34, 6), Layered.At(6));
        Assert.Equal(0.5 * (Layered.At(4) + Layered.At(6)), Layered.At(5), 1e-9);
    }

    [Fact]
    public void Above_the_first_row_and_below_the_last_the_speed_stays()
    {
        SoundSpeedProfile one = new([new(3, 10, 35)]);
        Assert.Equal(one.At(3), one.At(0));
        Assert.Equal(one.At(3), one.At(50));
        Assert.Equal(one.At(3), one.MeanBetween(1, 20), 1e-9);
    }

    // Brute force: the travel time by the midpoint rule.
    [Theory]
    [InlineData(0, 12)]
    [InlineData(3, 8.5)]
    [InlineData(4.2, 4.3)]
    public void The_mean_speed_gives_the_travel_time(double top, double bottom)
    {
        double time = 0;
        const int steps = 200_000;
        for (int i = 0; i < steps; i++)
            time += (bottom - top) / steps / Layered.At(top + (i + 0.5) * (bottom - top) / steps);
        Assert.Equal((bottom - top) / time, Layered.MeanBetween(top, bottom), 1e-6);
    }

    // Law: a harmonic mean is no greater than the arithmetic one.
    [Fact]
    public void The_mean_speed_is_no_greater_than_the_mean_of_the_ends() =>
        Assert.True(Layered.MeanBetween(4, 6) <= 0.5 * (Layered.At(4) + Layered.At(6)));

    [Fact]
    public void A_cast_without_rows_or_with_a_depth_twice_is_refused()
    {
        Assert.Throws<ArgumentException>(() => new SoundSpeedProfile([]));
        Assert.Throws<ArgumentException>(() => new SoundSpeedProfile([new(1, 10, 35), new(1, 11, 35)]));
    }
}
