using CsCheck;
using Undersand.Positioning;

namespace Undersand.Tests.Positioning;

public sealed class BodyRotationTests
{
    private static readonly Gen<Attitude> Attitudes = Gen.Select(Gen.Double[0, 360], Gen.Double[-90, 90], Gen.Double[-89, 89], Make);
    private static readonly Gen<BodyOffset> Arms = Gen.Select(Gen.Double[-5, 5], Gen.Double[-5, 5], Gen.Double[-5, 5], (f, s, d) => new BodyOffset(f, s, d));

    private static Attitude Make(double heading, double roll, double pitch) => new(Angle.FromDegrees(heading), Angle.FromDegrees(roll), Angle.FromDegrees(pitch));

    /// <summary>Worked by hand from the contract's conventions: bow up lifts what is ahead, starboard down sinks what is to starboard.</summary>
    [Theory]
    [InlineData(0, 0, 0, 1, 2, 3, 1, 2, 3)]
    [InlineData(90, 0, 0, 1, 0, 0, 0, 1, 0)]
    [InlineData(90, 0, 0, 0, 1, 0, -1, 0, 0)]
    [InlineData(0, 30, 0, 0, 2, 0, 0, 1.7320508075688772, 1)]
    [InlineData(0, 30, 0, 0, 0, 2, 0, -1, 1.7320508075688772)]
    [InlineData(0, 0, 30, 2, 0, 0, 1.7320508075688772, 0, -1)]
    [InlineData(0, 0, 30, 0, 0, 2, 1, 0, 1.7320508075688772)]
    [InlineData(180, 90, 0, 0, 1, 0, 0, 0, 1)]
    [InlineData(90, 90, 90, 0, 0, 1, 1, 0, 0)]
    [InlineData(90, 90, 90, 0, 1, 0, 0, 1, 0)]
    public void Lever_arms_turn_as_worked_by_hand(double heading, double roll, double pitch, double forward, double starboard, double down, double north, double east, double worldDown)
    {
        WorldOffset turned = new BodyRotation(Make(heading, roll, pitch)).ToWorld(new BodyOffset(forward, starboard, down));
        Assert.Equal(north, turned.North, 1e-12);
        Assert.Equal(east, turned.East, 1e-12);
        Assert.Equal(worldDown, turned.Down, 1e-12);
    }

    [Fact]
    public void Turning_back_gives_the_lever_arm_again() => Gen.Select(Attitudes, Arms).Sample((attitude, arm) =>
    {
        var rotation = new BodyRotation(attitude);
        BodyOffset back = rotation.ToBody(rotation.ToWorld(arm));
        return Math.Abs(back.Forward - arm.Forward) + Math.Abs(back.Starboard - arm.Starboard) + Math.Abs(back.Down - arm.Down) < 1e-12;
    });

    [Fact]
    public void Rotations_keep_lengths_and_angles() => Gen.Select(Attitudes, Arms, Arms).Sample((attitude, a, b) =>
    {
        var rotation = new BodyRotation(attitude);
        WorldOffset u = rotation.ToWorld(a), v = rotation.ToWorld(b);
        double before = a.Forward * b.Forward + a.Starboard * b.Starboard + a.Down * b.Down;
        return Math.Abs(u.North * v.North + u.East * v.East + u.Down * v.Down - before) < 1e-11;
    });

    /// <summary>R = Rz·Ry·Rx multiplied out as matrices, in the order the contract gives.</summary>
    [Fact]
    public void The_rotation_is_the_product_of_three_matrices() => Gen.Select(Attitudes, Arms).Sample((attitude, arm) =>
    {
        double[] v = [arm.Forward, arm.Starboard, arm.Down];
        double h = attitude.Heading.Radians, p = attitude.Pitch.Radians, r = attitude.Roll.Radians;
        v = Times([[1, 0, 0], [0, Math.Cos(r), -Math.Sin(r)], [0, Math.Sin(r), Math.Cos(r)]], v);
        v = Times([[Math.Cos(p), 0, Math.Sin(p)], [0, 1, 0], [-Math.Sin(p), 0, Math.Cos(p)]], v);
        v = Times([[Math.Cos(h), -Math.Sin(h), 0], [Math.Sin(h), Math.Cos(h), 0], [0, 0, 1]], v);
        WorldOffset found = new BodyRotation(attitude).ToWorld(arm);
        return Math.Abs(found.North - v[0]) + Math.Abs(found.East - v[1]) + Math.Abs(found.Down - v[2]) < 1e-12;
    });

    private static double[] Times(double[][] matrix, double[] v) => [.. matrix.Select(row => row[0] * v[0] + row[1] * v[1] + row[2] * v[2])];

    [Fact]
    public void A_mounted_thing_lies_at_the_reference_point_plus_its_arm()
    {
        var pose = new VehiclePose(new GridPoint(1000, 2000, 10), Make(90, 0, 0));
        GridPoint placed = pose.Place(new BodyOffset(2, 1, 0.5));
        Assert.Equal(1002, placed.Easting, 1e-12);
        Assert.Equal(1999, placed.Northing, 1e-12);
        Assert.Equal(10.5, placed.Depth, 1e-12);
    }
}
