namespace Undersand.Positioning;

/// <summary>A displacement in the world: grid north, grid east, down, in metres.</summary>
/// <param name="North">Towards grid north.</param>
/// <param name="East">Towards grid east.</param>
/// <param name="Down">Downwards.</param>
public readonly record struct WorldOffset(double North, double East, double Down)
{
    /// <summary>Where this displacement leads from a point.</summary>
    public GridPoint From(GridPoint start) => new(start.Easting + East, start.Northing + North, start.Depth + Down);
}

/// <summary>Turns lever arms of the vehicle into the world and back.</summary>
/// <remarks>
/// R = Rz(heading)·Ry(pitch)·Rx(roll) takes forward, starboard, down into north, east, down: roll about forward, then pitch about
/// starboard, then heading about down. Positive roll puts starboard down, positive pitch the bow up. Derivation in docs/science/positions.md.
/// </remarks>
public readonly struct BodyRotation
{
    private readonly double _cosHeading, _sinHeading, _cosPitch, _sinPitch, _cosRoll, _sinRoll;

    /// <summary>The rotation of a vehicle that points so.</summary>
    public BodyRotation(Attitude attitude)
    {
        (_sinHeading, _cosHeading) = Math.SinCos(attitude.Heading.Radians);
        (_sinPitch, _cosPitch) = Math.SinCos(attitude.Pitch.Radians);
        (_sinRoll, _cosRoll) = Math.SinCos(attitude.Roll.Radians);
    }

    /// <summary>A lever arm, turned into the world.</summary>
    public WorldOffset ToWorld(BodyOffset arm)
    {
        double starboard = arm.Starboard * _cosRoll - arm.Down * _sinRoll, rolledDown = arm.Starboard * _sinRoll + arm.Down * _cosRoll;
        double forward = arm.Forward * _cosPitch + rolledDown * _sinPitch, down = rolledDown * _cosPitch - arm.Forward * _sinPitch;
        return new(forward * _cosHeading - starboard * _sinHeading, forward * _sinHeading + starboard * _cosHeading, down);
    }

    /// <summary>A displacement in the world, as the vehicle sees it: the inverse of <see cref="ToWorld"/>.</summary>
    public BodyOffset ToBody(WorldOffset offset)
    {
        double forward = offset.North * _cosHeading + offset.East * _sinHeading, starboard = offset.East * _cosHeading - offset.North * _sinHeading;
        double rolledDown = forward * _sinPitch + offset.Down * _cosPitch;
        return new(forward * _cosPitch - offset.Down * _sinPitch, starboard * _cosRoll + rolledDown * _sinRoll, rolledDown * _cosRoll - starboard * _sinRoll);
    }
}
