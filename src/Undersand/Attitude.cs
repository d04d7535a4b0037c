namespace Undersand;

/// <summary>Where the vehicle points: heading clockwise from grid north, roll positive starboard down, pitch positive bow up.</summary>
/// <param name="Heading">Where the bow points, clockwise from grid north.</param>
/// <param name="Roll">Positive starboard down.</param>
/// <param name="Pitch">Positive bow up.</param>
public readonly record struct Attitude(Angle Heading, Angle Roll, Angle Pitch);
