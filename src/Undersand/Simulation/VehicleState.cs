using NodaTime;

namespace Undersand.Simulation;

/// <summary>Where the vehicle's reference point was, and how it lay.</summary>
/// <param name="Time">UTC.</param>
/// <param name="Position">Of the reference point.</param>
/// <param name="Attitude">Heading, roll, pitch.</param>
public sealed record VehicleState(Instant Time, GridPoint Position, Attitude Attitude);
