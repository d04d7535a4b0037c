using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Undersand.Imaging.Focusing;

/// <summary>The operations on sixteen floats that only AVX-512 has in one instruction, or else by halves, so that the same kernel can be tested anywhere.</summary>
internal static unsafe class Wide
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<int> Nearest(Vector512<float> v) =>
        Avx512F.IsSupported ? Avx512F.ConvertToVector512Int32(v) : Vector512.ConvertToInt32Native(Vector512.Round(v));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> UnpackLow(Vector512<float> a, Vector512<float> b) =>
        Avx512F.IsSupported ? Avx512F.UnpackLow(a, b)
            : Vector512.Create(Avx.UnpackLow(a.GetLower(), b.GetLower()), Avx.UnpackLow(a.GetUpper(), b.GetUpper()));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> UnpackHigh(Vector512<float> a, Vector512<float> b) =>
        Avx512F.IsSupported ? Avx512F.UnpackHigh(a, b)
            : Vector512.Create(Avx.UnpackHigh(a.GetLower(), b.GetLower()), Avx.UnpackHigh(a.GetUpper(), b.GetUpper()));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> FirstPairs(Vector512<float> a, Vector512<float> b) =>
        Avx512F.IsSupported ? Avx512F.Shuffle(a, b, 0x44)
            : Vector512.Create(Avx.Shuffle(a.GetLower(), b.GetLower(), 0x44), Avx.Shuffle(a.GetUpper(), b.GetUpper(), 0x44));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> LastPairs(Vector512<float> a, Vector512<float> b) =>
        Avx512F.IsSupported ? Avx512F.Shuffle(a, b, 0xEE)
            : Vector512.Create(Avx.Shuffle(a.GetLower(), b.GetLower(), 0xEE), Avx.Shuffle(a.GetUpper(), b.GetUpper(), 0xEE));

    /// <summary>The records of a level and of those four, eight and twelve further on. Creating a vector from halves inside a loop goes through the stack; inserting does not.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Quad(byte* records, int* index)
    {
        Vector128<float> a = Vector128.Load((float*)(records + index[0])), b = Vector128.Load((float*)(records + index[4]));
        Vector128<float> c = Vector128.Load((float*)(records + index[8])), d = Vector128.Load((float*)(records + index[12]));
        if (!Avx512F.IsSupported)
            return Vector512.Create(Vector256.Create(a, b), Vector256.Create(c, d));
        Vector512<float> all = Avx512F.InsertVector128(a.ToVector256Unsafe().ToVector512Unsafe(), b, 1);
        return Avx512F.InsertVector128(Avx512F.InsertVector128(all, c, 2), d, 3);
    }
}
