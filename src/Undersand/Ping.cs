using NodaTime;

namespace Undersand;

/// <summary>One transmission: when, from where, and where it was received.</summary>
/// <param name="Number">The ping number of the recording.</param>
/// <param name="Time">Start of the transmission, UTC.</param>
/// <param name="FirstSampleTime">Seconds from the start of the transmission to sample 0.</param>
/// <param name="Source">Where the source was.</param>
/// <param name="Receivers">The receivers, in the order of their traces.</param>
public sealed record Ping(int Number, Instant Time, double FirstSampleTime, GridPoint Source, IReadOnlyList<Receiver> Receivers);

/// <summary>One receiver at one ping.</summary>
/// <param name="Number">Its number within the ping, from 1.</param>
/// <param name="Position">Where it was.</param>
/// <param name="Live">False where the recording says dead or dummy.</param>
public readonly record struct Receiver(int Number, GridPoint Position, bool Live);
