namespace Undersand.Detection;

/// <summary>Keeps the newest results of a pure function; which are kept never changes a result, only the time it takes.</summary>
internal sealed class BoundedCache<TKey, TValue>(int capacity, Func<TKey, TValue> make) where TKey : notnull
{
    private readonly BoundedStore<TKey, TValue> _store = new(capacity);

    public TValue Get(TKey key) => _store.Get(key, make);
}
