using CsCheck;
using Undersand.Positioning;

namespace Undersand.Tests.Positioning;

public sealed class WholeSecondClockTests
{
    [Fact]
    public void Evenly_timed_pings_get_their_fractions_back_within_the_stated_error() =>
        Gen.Select(Gen.Double[0.05, 0.45], Gen.Double[0, 1], Gen.Int[60, 400]).Sample((interval, offset, count) =>
        {
            int[] numbers = [.. Enumerable.Range(5, count)];
            double[] truth = [.. numbers.Select(n => 1000 + offset + interval * (n - 5))];
            double[] found = new double[count];
            double error = WholeSecondClock.Restore([.. truth.Select(t => (long)Math.Floor(t))], numbers, found);
            Assert.InRange(error, 0, 0.6);
            return truth.Zip(found).All(pair => Math.Abs(pair.First - pair.Second) <= error + 1e-9);
        });

    [Fact]
    public void Missing_pings_are_counted_by_their_numbers()
    {
        int[] numbers = [.. Enumerable.Range(0, 200).Where(n => n is < 40 or > 90)];
        double[] truth = [.. numbers.Select(n => 7.03 + 0.1 * n)], found = new double[numbers.Length];
        double error = WholeSecondClock.Restore([.. truth.Select(t => (long)Math.Floor(t))], numbers, found);
        Assert.InRange(error, 0, 0.1);
        Assert.All(truth.Zip(found), pair => Assert.InRange(Math.Abs(pair.First - pair.Second), 0, error + 1e-9));
    }

    [Fact]
    public void Uneven_pings_are_spread_over_their_seconds_and_the_error_says_so()
    {
        double[] found = new double[6];
        double error = WholeSecondClock.Restore([0, 0, 0, 5, 5, 40], [1, 2, 3, 4, 5, 6], found);
        Assert.Equal(0.5, error);
        Assert.Equal([1 / 6.0, 0.5, 5 / 6.0, 5.25, 5.75, 40.5], found);
    }
}
