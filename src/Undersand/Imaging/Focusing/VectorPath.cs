using System.Runtime.Intrinsics.X86;

namespace Undersand.Imaging.Focusing;

/// <summary>How wide the vector engine works.</summary>
internal enum VectorPath
{
    /// <summary>One level at a time: any processor.</summary>
    Scalar,

    /// <summary>Eight levels at a time: AVX2 and FMA.</summary>
    Wide256,

    /// <summary>Sixteen levels at a time: AVX-512; elsewhere emulated, slow, for tests.</summary>
    Wide512,
}

/// <summary>What this machine can do.</summary>
internal static class VectorPaths
{
    public static VectorPath Best =>
        Avx512F.IsSupported && Avx512DQ.IsSupported && Avx512BW.IsSupported ? VectorPath.Wide512
        : Avx2.IsSupported && Fma.IsSupported ? VectorPath.Wide256
        : VectorPath.Scalar;
}
