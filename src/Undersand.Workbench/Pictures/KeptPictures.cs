namespace Undersand.Workbench.Pictures;

/// <summary>Keeps the newest of what was made, up to a count; each is made once even if several ask at the same time.</summary>
internal sealed class KeptPictures<TKey, TValue>(int most) where TKey : notnull
{
    private readonly Lock _lock = new();
    private readonly Dictionary<TKey, LinkedListNode<(TKey Key, Lazy<TValue> Value)>> _places = [];
    private readonly LinkedList<(TKey Key, Lazy<TValue> Value)> _newestFirst = [];

    public TValue Get(TKey key, Func<TKey, TValue> make)
    {
        Lazy<TValue> value;
        lock (_lock)
        {
            if (_places.TryGetValue(key, out var place))
                _newestFirst.Remove(place);
            else
                place = new((key, new Lazy<TValue>(() => make(key))));
            _newestFirst.AddFirst(place);
            _places[key] = place;
            if (_places.Count > most)
            {
                _places.Remove(_newestFirst.Last!.Value.Key);
                _newestFirst.RemoveLast();
            }
            value = place.Value.Value;
        }
        return value.Value;
    }
}
