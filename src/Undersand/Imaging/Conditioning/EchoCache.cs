namespace Undersand.Imaging.Conditioning;

/// <summary>Keeps the pieces of conditioned recordings used last, of all lines together, up to a number of bytes. Not for several threads at once.</summary>
public sealed class EchoCache(long capacity)
{
    private readonly LinkedList<((object Owner, int Block) Key, object Value, long Bytes)> _recent = new();
    private readonly Dictionary<(object, int), LinkedListNode<((object, int), object, long)>> _places = [];
    private long _bytes;

    /// <summary>A piece, made if it is not kept.</summary>
    /// <param name="owner">Whose piece.</param>
    /// <param name="block">Which of the owner's.</param>
    /// <param name="make">Makes it, and says how many bytes it takes.</param>
    public T Get<T>(object owner, int block, Func<(T Value, long Bytes)> make) where T : class
    {
        if (_places.TryGetValue((owner, block), out var node))
        {
            _recent.Remove(node);
            _recent.AddFirst(node);
            return (T)node.Value.Item2;
        }
        var (value, bytes) = make();
        _places[(owner, block)] = _recent.AddFirst(((owner, block), value, bytes));
        _bytes += bytes;
        while (_bytes > capacity && _recent.Count > 1)
        {
            var oldest = _recent.Last!;
            _recent.RemoveLast();
            _places.Remove(oldest.Value.Key);
            _bytes -= oldest.Value.Bytes;
        }
        return value;
    }
}
