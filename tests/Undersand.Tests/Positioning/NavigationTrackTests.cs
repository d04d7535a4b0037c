using NodaTime;
using Undersand.Positioning;

namespace Undersand.Tests.Positioning;

public sealed class NavigationTrackTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 5, 4, 10, 0);

    private static NavigationFix Fix(double seconds, double easting, double heading = 0, double roll = 0, double pitch = 0) =>
        new(Start.PlusNanoseconds((long)(seconds * 1e9)), new(new GridPoint(easting, 2 * easting, 0.1 * easting), new Attitude(Angle.FromDegrees(heading), Angle.FromDegrees(roll), Angle.FromDegrees(pitch))));

    [Fact]
    public void Position_and_attitude_go_straight_between_fixes()
    {
        var track = new NavigationTrack([Fix(0, 0), Fix(2, 10, 20, -4, 6), Fix(3, 10)]);
        VehiclePose pose = track.At(Start + Duration.FromMilliseconds(500));
        Assert.Equal(2.5, pose.Position.Easting, 1e-12);
        Assert.Equal(5, pose.Position.Northing, 1e-12);
        Assert.Equal(0.25, pose.Position.Depth, 1e-12);
        Assert.Equal((5, -1, 1.5), (Math.Round(pose.Attitude.Heading.Degrees, 9), Math.Round(pose.Attitude.Roll.Degrees, 9), Math.Round(pose.Attitude.Pitch.Degrees, 9)));
    }

    [Theory]
    [InlineData(350, 10, 0.5, 0)]
    [InlineData(10, 350, 0.25, 5)]
    [InlineData(359, 1, 0.75, 0.5)]
    [InlineData(-10, 370, 0.5, 0)]
    [InlineData(90, 270, 0.5, 180)]
    [InlineData(30, 70, 0.5, 50)]
    public void Heading_goes_the_short_way_round(double from, double to, double part, double expected)
    {
        var track = new NavigationTrack([Fix(0, 0, from), Fix(1, 1, to)]);
        double found = track.At(Start.PlusNanoseconds((long)(part * 1e9))).Attitude.Heading.Degrees;
        Assert.Equal(0, Math.IEEERemainder(found - expected, 360), 1e-9);
    }

    [Fact]
    public void Fixes_themselves_are_given_back_and_beyond_them_nothing()
    {
        var track = new NavigationTrack([Fix(0, 0), Fix(1, 3), Fix(2, 5)]);
        Assert.Equal([0.0, 3.0, 5.0], new[] { 0, 1, 2 }.Select(s => track.At(Start + Duration.FromSeconds(s)).Position.Easting));
        Assert.False(track.Encloses(Start - Duration.FromNanoseconds(1)));
        Assert.Throws<ArgumentOutOfRangeException>(() => track.At(Start + Duration.FromSeconds(3)));
    }

    [Fact]
    public void Times_that_do_not_rise_are_refused() =>
        Assert.Throws<ArgumentException>(() => new NavigationTrack([Fix(1, 0), Fix(1, 1)]));
}
