namespace Undersand;

/// <summary>A lever arm in the vehicle's body frame, in metres from its reference point.</summary>
/// <param name="Forward">Towards the bow.</param>
/// <param name="Starboard">Towards starboard.</param>
/// <param name="Down">Downwards.</param>
public readonly record struct BodyOffset(double Forward, double Starboard, double Down);
