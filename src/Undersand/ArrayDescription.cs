namespace Undersand;

/// <summary>Where the transducers sit on the vehicle, and how they respond.</summary>
/// <param name="Sources">Lever arms of the sources; a ping uses the first.</param>
/// <param name="Receivers">Lever arms of the receivers, in the order of their numbers.</param>
/// <param name="ChannelGainsDb">A gain per receiver that the recordings contain and that is taken out; empty if none.</param>
/// <param name="BeamPattern">Level in dB over the angle from straight down (combined, one way); empty if omnidirectional.</param>
public sealed record ArrayDescription(
    IReadOnlyList<BodyOffset> Sources,
    IReadOnlyList<BodyOffset> Receivers,
    IReadOnlyList<double> ChannelGainsDb,
    IReadOnlyList<BeamPoint> BeamPattern);

/// <summary>One row of a beam pattern.</summary>
/// <param name="Angle">From the beam's axis, which points down.</param>
/// <param name="LevelDb">Re the axis.</param>
public readonly record struct BeamPoint(Angle Angle, double LevelDb);
