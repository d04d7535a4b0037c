namespace Undersand.Detection;

/// <summary>Keeps so many of the newest values; each is made once, whoever asks for it at the same time. What failed is made again.</summary>
internal sealed class BoundedStore<TKey, TValue>(int capacity) where TKey : notnull
{
    private readonly Lock _gate = new();
    private readonly Dictionary<TKey, Lazy<TValue>> _kept = [];
    private readonly Queue<TKey> _order = new();

    public TValue Get(TKey key, Func<TKey, TValue> make)
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
        try
        {
            return entry.Value;
        }
        catch
        {
            lock (_gate)
                if (_kept.GetValueOrDefault(key) == entry)
                    _kept.Remove(key);
            throw;
        }
    }
}
