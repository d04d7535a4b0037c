namespace Undersand.Detection;

/// <summary>Keeps the newest results of a pure function; which are kept never changes a result, only the time it takes.</summary>
internal sealed class BoundedCache<TKey, TValue>(int capacity, Func<TKey, TValue> make) where TKey : notnull
{
    private readonly Lock _gate = new();
    private readonly Dictionary<TKey, Lazy<TValue>> _kept = [];
    private readonly Queue<TKey> _order = new();

    public TValue Get(TKey key)
    {
        Lazy<TValue>? entry;
        lock (_gate)
        {
            if (!_kept.TryGetValue(key, out entry))
            {
                entry = new Lazy<TValue>(() => make(key), LazyThreadSafetyMode.ExecutionAndPublication);
                _kept.Add(key, entry);
                _order.Enqueue(key);
                if (_order.Count > capacity)
                    _kept.Remove(_order.Dequeue());
            }
        }
        return entry.Value;
    }
}
