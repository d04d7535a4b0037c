namespace Undersand.Detection;

/// <summary>Keeps tiles' evidence from one volume to the next, under fingerprints of all that it is made from. What is kept never changes a result, only the time it takes.</summary>
/// <param name="bytes">How much is kept, about; the oldest goes first.</param>
public sealed class EvidenceMemory(long bytes)
{
    private readonly Lock _gate = new();
    private readonly Dictionary<string, TileEvidence> _kept = [];
    private readonly Queue<string> _order = new();
    private long _bytes;

    internal TileEvidence Get(string print, Func<TileEvidence> make)
    {
        lock (_gate)
            if (_kept.TryGetValue(print, out TileEvidence? known))
                return known;
        TileEvidence made = make();
        lock (_gate)
            if (_kept.TryAdd(print, made))
            {
                _order.Enqueue(print);
                _bytes += made.Bytes;
                while (_bytes > bytes && _order.TryDequeue(out string? oldest) && _kept.Remove(oldest, out TileEvidence? gone))
                    _bytes -= gone.Bytes;
            }
        return made;
    }
}
