namespace Undersand.Detection;

/// <summary>Keeps tiles' evidence from one volume to the next, under fingerprints of all that it is made from. What is kept never changes a result, only the time it takes.</summary>
/// <param name="tiles">How many are kept; the oldest goes first.</param>
public sealed class EvidenceMemory(int tiles)
{
    internal BoundedStore<string, TileEvidence> Kept { get; } = new(tiles);
}
