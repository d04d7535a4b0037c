using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Undersand.Imaging.Focusing;

/// <summary>The sum over eight levels at a time, for AVX2 with FMA.</summary>
internal static unsafe class Kernel512
{
    private const int Width = 8;

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Add(RowJob* job)
    {
        for (int column = 0; column < RowJob.Lanes; column++)
            for (int trace = 0; trace < job->Traces; trace++)
            {
                int i = trace * RowJob.Lanes + column;
                int first = job->First[i], end = job->End[i], whole = job->Whole[i];
                if (first >= end)
                    continue;
                for (int k = first & -Width; k < Math.Min(whole, end); k += Width)
                    Edge(job, i, trace, column, k);
                if (whole < job->PaddedLevels)
                    Whole(job, i, trace, column, Math.Max(whole, first & -Width));
            }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Place(float* c, Vector256<float> z)
    {
        Vector256<float> v = Fma.MultiplyAdd(z, Vector256.Create(c[48]), Vector256.Create(c[40]));
        v = Fma.MultiplyAdd(z, v, Vector256.Create(c[32]));
        v = Fma.MultiplyAdd(z, v, Vector256.Create(c[24]));
        v = Fma.MultiplyAdd(z, v, Vector256.Create(c[16]));
        v = Fma.MultiplyAdd(z, v, Vector256.Create(c[8]));
        return Fma.MultiplyAdd(z, v, Vector256.Create(c[0]));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Whole(RowJob* job, int i, int trace, int column, int from)
    {
        int* indices = job->Indices;
        float* fractions = job->Fractions;
        float* mapped = job->Mapped;
        int padded = job->PaddedLevels;
        Vector256<float> scale = Vector256.Create(job->MapScale[column]), shift = Vector256.Create(job->MapShift[column]);
        float* c = job->Coefficients + trace * (PathPolynomial.Nodes * RowJob.Lanes) + column;
        Vector256<float> p0 = Vector256.Create(c[0]), p1 = Vector256.Create(c[8]), p2 = Vector256.Create(c[16]), p3 = Vector256.Create(c[24]);
        Vector256<float> p4 = Vector256.Create(c[32]), p5 = Vector256.Create(c[40]), p6 = Vector256.Create(c[48]);
        for (int k = from; k < padded; k += Width)
        {
            Vector256<float> z = Fma.MultiplyAdd(Vector256.Load(mapped + k), scale, shift);
            Vector256<float> v = Fma.MultiplyAdd(z, p6, p5);
            v = Fma.MultiplyAdd(z, v, p4);
            v = Fma.MultiplyAdd(z, v, p3);
            v = Fma.MultiplyAdd(z, v, p2);
            v = Fma.MultiplyAdd(z, v, p1);
            v = Fma.MultiplyAdd(z, v, p0);
            Vector256<int> index = Avx.ConvertToVector256Int32(v);
            (v - Avx.ConvertToVector256Single(index)).StoreAligned(fractions + k);
            Avx2.ShiftLeftLogical(index, 4).StoreAligned(indices + k);
        }

        byte* records = job->Records[i];
        float* sums = job->Sums[i];
        Vector256<float> one = Vector256<float>.One, c2 = Vector256.Create(job->C2), c4 = Vector256.Create(job->C4);
        Vector256<float> s1 = Vector256.Create(job->S1), s3 = Vector256.Create(job->S3), s5 = Vector256.Create(job->S5);
        for (int k = from; k < padded; k += Width)
        {
            Vector256<float> g = Vector256.LoadAligned(fractions + k);
            Vector256<float> z0 = Pair(records, indices + k), z1 = Pair(records, indices + k + 1), z2 = Pair(records, indices + k + 2), z3 = Pair(records, indices + k + 3);
            Vector256<float> t0 = Avx.UnpackLow(z0, z1), t1 = Avx.UnpackHigh(z0, z1), t2 = Avx.UnpackLow(z2, z3), t3 = Avx.UnpackHigh(z2, z3);
            Vector256<float> a = Fma.MultiplyAdd(g, Avx.Shuffle(t1, t3, 0x44), Avx.Shuffle(t0, t2, 0x44));
            Vector256<float> b = Fma.MultiplyAdd(g, Avx.Shuffle(t1, t3, 0xEE), Avx.Shuffle(t0, t2, 0xEE));
            Vector256<float> g2 = g * g;
            Vector256<float> cos = Fma.MultiplyAdd(g2, Fma.MultiplyAdd(g2, c4, c2), one);
            Vector256<float> sin = g * Fma.MultiplyAdd(g2, Fma.MultiplyAdd(g2, s5, s3), s1);
            float* re = sums + k, im = re + padded, square = im + padded;
            Fma.MultiplyAddNegated(b, sin, Fma.MultiplyAdd(a, cos, Vector256.LoadAligned(re))).StoreAligned(re);
            Fma.MultiplyAdd(b, cos, Fma.MultiplyAdd(a, sin, Vector256.LoadAligned(im))).StoreAligned(im);
            Fma.MultiplyAdd(b, b, Fma.MultiplyAdd(a, a, Vector256.LoadAligned(square))).StoreAligned(square);
        }
    }

    /// <summary>Eight levels of which some are tapered, before the first, behind the last, or outside the trace.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Edge(RowJob* job, int i, int trace, int column, int k)
    {
        int padded = job->PaddedLevels;
        Vector256<float> z = Fma.MultiplyAdd(Vector256.Load(job->Mapped + k), Vector256.Create(job->MapScale[column]), Vector256.Create(job->MapShift[column]));
        Vector256<float> v = Place(job->Coefficients + trace * (PathPolynomial.Nodes * RowJob.Lanes) + column, z);
        v = Avx.Min(Avx.Max(v, Vector256.Create(job->LeastPlace[i])), Vector256.Create(job->GreatestPlace[i]));
        Vector256<int> index = Avx.ConvertToVector256Int32(v);
        Vector256<float> g = v - Avx.ConvertToVector256Single(index);
        int* indices = job->Indices;
        Avx2.ShiftLeftLogical(index, 4).StoreAligned(indices);
        byte* records = job->Records[i];
        Vector256<float> z0 = Pair(records, indices), z1 = Pair(records, indices + 1), z2 = Pair(records, indices + 2), z3 = Pair(records, indices + 3);
        Vector256<float> t0 = Avx.UnpackLow(z0, z1), t1 = Avx.UnpackHigh(z0, z1), t2 = Avx.UnpackLow(z2, z3), t3 = Avx.UnpackHigh(z2, z3);

        Vector256<float> level = Vector256.Load(job->LevelNumbers + k);
        Vector256<float> weight = (level - Vector256.Create(job->WeightStart[i])) * Vector256.Create(job->WeightRise[i]);
        weight = Avx.Min(Avx.Max(weight, Vector256<float>.Zero), Vector256<float>.One);
        Vector256<int> number = Vector256.Create(k) + Vector256.Create(0, 1, 2, 3, 4, 5, 6, 7);
        weight = (Vector256.GreaterThanOrEqual(number, Vector256.Create(job->First[i])) & Vector256.LessThan(number, Vector256.Create(job->End[i]))).AsSingle() & weight;

        Vector256<float> a = weight * Fma.MultiplyAdd(g, Avx.Shuffle(t1, t3, 0x44), Avx.Shuffle(t0, t2, 0x44));
        Vector256<float> b = weight * Fma.MultiplyAdd(g, Avx.Shuffle(t1, t3, 0xEE), Avx.Shuffle(t0, t2, 0xEE));
        Vector256<float> g2 = g * g;
        Vector256<float> cos = Fma.MultiplyAdd(g2, Fma.MultiplyAdd(g2, Vector256.Create(job->C4), Vector256.Create(job->C2)), Vector256<float>.One);
        Vector256<float> sin = g * Fma.MultiplyAdd(g2, Fma.MultiplyAdd(g2, Vector256.Create(job->S5), Vector256.Create(job->S3)), Vector256.Create(job->S1));
        float* re = job->Sums[i] + k, im = re + padded, square = im + padded;
        Fma.MultiplyAddNegated(b, sin, Fma.MultiplyAdd(a, cos, Vector256.LoadAligned(re))).StoreAligned(re);
        Fma.MultiplyAdd(b, cos, Fma.MultiplyAdd(a, sin, Vector256.LoadAligned(im))).StoreAligned(im);
        Fma.MultiplyAdd(b, b, Fma.MultiplyAdd(a, a, Vector256.LoadAligned(square))).StoreAligned(square);
    }

    /// <summary>The records of one level and of that four further on, in the two halves.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Pair(byte* records, int* index) =>
        Avx.InsertVector128(Vector128.Load((float*)(records + index[0])).ToVector256Unsafe(), Vector128.Load((float*)(records + index[4])), 1);
}
