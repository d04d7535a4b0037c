namespace Undersand.Imaging.Conditioning;

/// <summary>Keeps the blocks used last. Not for several threads at once.</summary>
/// <typeparam name="T">What a block is.</typeparam>
internal sealed class BlockCache<T>(int capacity)
{
    private readonly LinkedList<(int Key, T Value)> _recent = new();

    /// <summary>A block, made if it is not kept.</summary>
    public T Get(int key, Func<int, T> make)
    {
        for (var node = _recent.First; node is not null; node = node.Next)
        {
            if (node.Value.Key != key)
                continue;
            _recent.Remove(node);
            _recent.AddFirst(node);
            return node.Value.Value;
        }
        T value = make(key);
        _recent.AddFirst((key, value));
        if (_recent.Count > capacity)
            _recent.RemoveLast();
        return value;
    }
}
