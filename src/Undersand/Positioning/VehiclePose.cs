namespace Undersand.Positioning;

/// <summary>Where the vehicle's reference point is, and where the vehicle points.</summary>
/// <param name="Position">The reference point.</param>
/// <param name="Attitude">Heading, roll, pitch.</param>
public readonly record struct VehiclePose(GridPoint Position, Attitude Attitude)
{
    /// <summary>Where something that is mounted on the vehicle is.</summary>
    public GridPoint Place(BodyOffset arm) => new BodyRotation(Attitude).ToWorld(arm).From(Position);
}
