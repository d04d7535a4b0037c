using NWaves.Transforms;

namespace Undersand.Signal;

/// <summary>The discrete Fourier transform of a power-of-two length, on split real and imaginary parts, in place.</summary>
/// <remarks>A thin door to the library's transform; one per thread, since nothing says that the library's may be shared.</remarks>
internal sealed class FourierTransform
{
    [ThreadStatic] private static Dictionary<int, FourierTransform>? s_ofThread;
    private readonly Fft _fft;

    private FourierTransform(int size) => _fft = new Fft(size);

    /// <summary>The transform of this thread.</summary>
    public static FourierTransform OfSize(int size)
    {
        s_ofThread ??= [];
        if (!s_ofThread.TryGetValue(size, out var transform))
            s_ofThread[size] = transform = new FourierTransform(size);
        return transform;
    }

    /// <summary>Σ x[n] e^(−i2πkn/N).</summary>
    public void Forward(float[] re, float[] im) => _fft.Direct(re, im);

    /// <summary>Σ X[k] e^(+i2πkn/N), not divided by N.</summary>
    public void Backward(float[] re, float[] im) => _fft.Inverse(re, im);

    /// <summary>The smallest power of two not below <paramref name="n"/>.</summary>
    public static int SizeFor(int n) => (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)Math.Max(n, 2));
}
