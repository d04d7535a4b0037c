using Undersand.App.Screen;

namespace Undersand.Runs.Tests.Runs;

public class RunProgressTests
{
    [Fact]
    public void A_steady_pace_is_the_rate_and_gives_the_time_left()
    {
        var step = new RunProgress("Summing", 100, "tiles", now: 5);
        for (int i = 1; i <= 40; i++)
            step.Advance(1, 5 + 0.5 * i);
        Assert.Equal(2, step.Rate!.Value, 9);
        Assert.Equal(30, step.SecondsLeft!.Value, 9);
        Assert.Equal(0.4, step.Fraction!.Value, 9);
    }

    [Fact]
    public void A_new_pace_takes_over_within_a_few_time_constants()
    {
        var step = new RunProgress("Summing", 10_000, "tiles", now: 0);
        for (int i = 1; i <= 100; i++)
            step.Advance(10, i);
        for (int i = 1; i <= 5 * RunProgress.MemorySeconds; i++)
            step.Advance(1, 100 + i);
        Assert.InRange(step.Rate!.Value, 1, 1 + 10 * Math.Exp(-5) + 0.01);
    }

    [Fact]
    public void Nothing_is_said_before_anything_is_known()
    {
        var step = new RunProgress("Summing", 100, "tiles", now: 0);
        Assert.Null(step.Rate);
        Assert.Null(step.SecondsLeft);
        step.Advance(1, 0);
        Assert.Null(step.Rate);
        Assert.Null(new RunProgress("Reading", 0, "pings", 0).Fraction);
    }

    [Fact]
    public void What_an_earlier_run_left_is_done_but_makes_nobody_hope()
    {
        var step = new RunProgress("Summing", 100, "tiles", now: 0);
        for (int i = 1; i <= 60; i++)
            step.TakeOver(1, 0.01 * i);
        Assert.Equal("Summing: 60 of 100 tiles (60 %), time left not known yet", ProgressWords.UnderWay(step));
        step.Advance(1, 1.6);
        Assert.Null(step.Rate);
        step.Advance(1, 2.6);
        Assert.Equal(1, step.Rate!.Value, 9);
        Assert.Equal("Summing: 62 of 100 tiles (62 %), 1 tiles/s, 38 s left", ProgressWords.UnderWay(step));
    }

    [Theory]
    [InlineData(0.04, "0.0 s")]
    [InlineData(8, "8.0 s")]
    [InlineData(42.4, "42 s")]
    [InlineData(59.7, "1 min 00 s")]
    [InlineData(125, "2 min 05 s")]
    [InlineData(12_000, "3 h 20 min")]
    [InlineData(double.PositiveInfinity, "277777 h 46 min")]
    public void Durations_are_said_as_people_say_them(double seconds, string words) => Assert.Equal(words, RunProgress.Duration(seconds));

    [Fact]
    public void Parts_of_a_hundred_are_said_once()
    {
        var step = new RunProgress("Learning", 100, "%", now: 0);
        step.Advance(25, 10);
        Assert.Equal("Learning: 25 %, 30 s left", ProgressWords.UnderWay(step));
    }

    [Fact]
    public void Plain_lines_come_at_most_every_two_seconds_and_at_each_steps_end()
    {
        double now = 0;
        var output = new StringWriter { NewLine = "\n" };
        var progress = new PlainProgress(output, () => now);
        progress.Begin("Tracking the seabed", 1000, "pings");
        for (int i = 0; i < 640; i++)
        {
            now += 1.0 / 128;
            progress.Advance();
        }
        progress.Begin("Summing", 0, "tiles");
        progress.Message("A tile was made again.");
        now += 1;
        progress.Complete();
        Assert.Equal("""
            Tracking the seabed: 256 of 1,000 pings (25 %), 128 pings/s, 5.8 s left
            Tracking the seabed: 512 of 1,000 pings (51 %), 128 pings/s, 3.8 s left
            Tracking the seabed: 640 pings in 5.0 s
            A tile was made again.
            Summing: 1.0 s

            """.ReplaceLineEndings("\n"), output.ToString());
    }
}
