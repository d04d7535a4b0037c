using NodaTime;

namespace Undersand.Positioning;

/// <summary>The vehicle's way, by linear interpolation in time between fixes; heading goes the short way round.</summary>
/// <remarks>Immutable; may be shared by threads.</remarks>
public sealed class NavigationTrack
{
    private readonly Instant[] _times;
    private readonly VehiclePose[] _poses;

    /// <param name="fixes">At least two, times rising.</param>
    /// <exception cref="ArgumentException">Fewer than two fixes, or times that do not rise.</exception>
    public NavigationTrack(IEnumerable<NavigationFix> fixes)
    {
        var times = new List<Instant>();
        var poses = new List<VehiclePose>();
        foreach (NavigationFix fix in fixes)
        {
            if (times.Count > 0 && fix.Time <= times[^1])
                throw new ArgumentException($"the time of fix {times.Count + 1} does not rise", nameof(fixes));
            times.Add(fix.Time);
            poses.Add(fix.Pose);
        }
        if (times.Count < 2)
            throw new ArgumentException("a track needs two fixes", nameof(fixes));
        (_times, _poses) = ([.. times], [.. poses]);
    }

    private static readonly Duration OnFix = Duration.FromMilliseconds(1);

    /// <summary>Number of fixes.</summary>
    public int Count => _times.Length;

    /// <summary>The first fix's time.</summary>
    public Instant Start => _times[0];

    /// <summary>The last fix's time.</summary>
    public Instant End => _times[^1];

    /// <summary>Whether fixes lie on both sides of a time, or on it.</summary>
    public bool Encloses(Instant time) => time >= Start && time <= End;

    /// <summary>The time between the fixes around a time that the track encloses; nothing where a fix lies on it, to a millisecond.</summary>
    public Duration GapAt(Instant time)
    {
        int i = IndexBefore(time);
        bool onFix = time - _times[i] <= OnFix || _times[i + 1] - time <= OnFix;
        return onFix ? Duration.Zero : _times[i + 1] - _times[i];
    }

    /// <summary>The vehicle at a time.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The track does not enclose the time.</exception>
    public VehiclePose At(Instant time)
    {
        int i = IndexBefore(time);
        double f = (time - _times[i]) / (_times[i + 1] - _times[i]);
        VehiclePose a = _poses[i], b = _poses[i + 1];
        return new(
            new(Between(a.Position.Easting, b.Position.Easting, f), Between(a.Position.Northing, b.Position.Northing, f), Between(a.Position.Depth, b.Position.Depth, f)),
            new(Turned(a.Attitude.Heading, b.Attitude.Heading, f), Turned(a.Attitude.Roll, b.Attitude.Roll, f), Turned(a.Attitude.Pitch, b.Attitude.Pitch, f)));
    }

    /// <summary>Horizontal speed of the reference point, m/s.</summary>
    public double SpeedAt(Instant time)
    {
        int i = IndexBefore(time);
        return _poses[i].Position.HorizontalDistanceTo(_poses[i + 1].Position) / (_times[i + 1] - _times[i]).TotalSeconds;
    }

    private int IndexBefore(Instant time)
    {
        if (!Encloses(time))
            throw new ArgumentOutOfRangeException(nameof(time), time, "the track does not enclose this time");
        int i = Array.BinarySearch(_times, time);
        return Math.Min(i < 0 ? ~i - 1 : i, _times.Length - 2);
    }

    private static double Between(double a, double b, double f) => a + (b - a) * f;

    /// <summary>From a towards b the short way round; exactly opposite angles turn clockwise.</summary>
    private static Angle Turned(Angle a, Angle b, double f)
    {
        double turn = Math.IEEERemainder(b.Radians - a.Radians, 2 * Math.PI);
        return new(a.Radians + (turn == -Math.PI ? Math.PI : turn) * f);
    }
}
