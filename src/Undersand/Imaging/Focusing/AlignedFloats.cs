using System.Runtime.InteropServices;

namespace Undersand.Imaging.Focusing;

/// <summary>Zeroed native memory on cache-line boundaries, for the kernels.</summary>
internal sealed unsafe class AlignedFloats : IDisposable
{
    private const nuint Line = 64;
    private float* _at;

    public AlignedFloats(long count)
    {
        Count = count;
        _at = (float*)NativeMemory.AlignedAlloc(checked((nuint)count * sizeof(float) + Line), Line);
        Clear();
    }

    ~AlignedFloats() => Free();

    public float* At => _at;

    public long Count { get; }

    public void Clear() => NativeMemory.Clear(_at, (nuint)Count * sizeof(float));

    public void Dispose()
    {
        Free();
        GC.SuppressFinalize(this);
    }

    private void Free()
    {
        NativeMemory.AlignedFree(_at);
        _at = null;
    }
}
