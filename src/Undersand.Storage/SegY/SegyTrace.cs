using NodaTime;

namespace Undersand.Storage.SegY;

/// <summary>What is written into a trace's headers.</summary>
/// <param name="Ping">Ping number, bytes 9–12.</param>
/// <param name="Receiver">Receiver number, bytes 13–16.</param>
/// <param name="Kind">1 live, 2 dead, 3 dummy, 6 replica, bytes 29–30.</param>
/// <param name="Source">Where the source was.</param>
/// <param name="ReceiverPosition">Where the receiver was.</param>
/// <param name="Delay">Seconds from the start of transmission to sample 0.</param>
/// <param name="Time">Start of the transmission.</param>
public readonly record struct SegyTrace(int Ping, int Receiver, int Kind, GridPoint Source, GridPoint ReceiverPosition, double Delay, Instant Time);
