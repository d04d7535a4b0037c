using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;
using V = System.Runtime.Intrinsics.Vector256<float>;

namespace Undersand.Imaging.Focusing;

/// <summary>The sum over eight levels at a time, for AVX2 with FMA.</summary>
internal static unsafe class Kernel256
{
    private const int Width = 8;

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Add(RowJob* job)
    {
        for (int column = 0; column < RowJob.Lanes; column++)
            for (int trace = 0; trace < job->Traces; trace++)
            {
                int i = trace * RowJob.Lanes + column, first = job->First[i];
                if (first >= job->End[i])
                    continue;
                int from = first & -Width, whole = Math.Max(job->Whole[i], from);
                float* c = job->Coefficients + trace * (PathPolynomial.Nodes * RowJob.Lanes) + column;
                if (from < whole)
                    AddEdge(job, i, column, c, from, Math.Min(whole, job->End[i]));
                if (whole < job->PaddedLevels)
                    AddWhole(job, i, column, c, whole);
            }
    }

    /// <summary>Levels from one on to the last whose weight is 1, all inside the trace.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void AddWhole(RowJob* job, int i, int column, float* c, int from)
    {
        int* indices = job->Indices;
        float* fractions = job->Fractions, mapped = job->Mapped;
        int padded = job->PaddedLevels;
        V scale = Vector256.Create(job->MapScale[column]), shift = Vector256.Create(job->MapShift[column]);
        V p0 = Vector256.Create(c[0]), p1 = Vector256.Create(c[8]), p2 = Vector256.Create(c[16]), p3 = Vector256.Create(c[24]);
        V p4 = Vector256.Create(c[32]), p5 = Vector256.Create(c[40]), p6 = Vector256.Create(c[48]);
        for (int k = from; k < padded; k += Width)
        {
            V z = Vector256.FusedMultiplyAdd(Vector256.LoadAligned(mapped + k), scale, shift);
            V v = Vector256.FusedMultiplyAdd(z, p6, p5);
            v = Vector256.FusedMultiplyAdd(z, v, p4);
            v = Vector256.FusedMultiplyAdd(z, v, p3);
            v = Vector256.FusedMultiplyAdd(z, v, p2);
            v = Vector256.FusedMultiplyAdd(z, v, p1);
            v = Vector256.FusedMultiplyAdd(z, v, p0);
            Vector256<int> index = Avx.ConvertToVector256Int32(v);
            (v - Vector256.ConvertToSingle(index)).StoreAligned(fractions + k);
            (index << 4).StoreAligned(indices + k);
        }

        byte* records = job->Records[i];
        float* sums = job->Sums[i];
        V one = V.One, c2 = Vector256.Create(job->C2), c4 = Vector256.Create(job->C4);
        V s1 = Vector256.Create(job->S1), s3 = Vector256.Create(job->S3), s5 = Vector256.Create(job->S5);
        for (int k = from; k < padded; k += Width)
        {
            V g = Vector256.LoadAligned(fractions + k);
            Samples(records, indices + k, g, out V a, out V b);
            V g2 = g * g;
            V cos = Vector256.FusedMultiplyAdd(g2, Vector256.FusedMultiplyAdd(g2, c4, c2), one);
            V sin = g * Vector256.FusedMultiplyAdd(g2, Vector256.FusedMultiplyAdd(g2, s5, s3), s1);
            AddTurned(a, b, cos, sin, sums + k, padded);
        }
    }

    /// <summary>Levels of which some are tapered, before the first, behind the last, or outside the trace.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void AddEdge(RowJob* job, int i, int column, float* c, int from, int to)
    {
        int* indices = job->Indices;
        V scale = Vector256.Create(job->MapScale[column]), shift = Vector256.Create(job->MapShift[column]);
        V start = Vector256.Create(job->WeightStart[i]), rise = Vector256.Create(job->WeightRise[i]);
        V least = Vector256.Create(job->LeastPlace[i]), greatest = Vector256.Create(job->GreatestPlace[i]);
        Vector256<int> first = Vector256.Create(job->First[i]), end = Vector256.Create(job->End[i]);
        for (int k = from; k < to; k += Width)
        {
            V z = Vector256.FusedMultiplyAdd(Vector256.LoadAligned(job->Mapped + k), scale, shift);
            V v = Vector256.Create(c[48]);
            for (int m = 40; m >= 0; m -= 8)
                v = Vector256.FusedMultiplyAdd(z, v, Vector256.Create(c[m]));
            v = Vector256.MinNative(Vector256.MaxNative(v, least), greatest);
            Vector256<int> index = Avx.ConvertToVector256Int32(v), number = Vector256.Create(k) + Vector256<int>.Indices;
            V g = v - Vector256.ConvertToSingle(index);
            (index << 4).StoreAligned(indices);
            Samples(job->Records[i], indices, g, out V a, out V b);
            V weight = (Vector256.LoadAligned(job->LevelNumbers + k) - start) * rise;
            weight = Vector256.MinNative(Vector256.MaxNative(weight, V.Zero), V.One);
            weight &= (Vector256.GreaterThanOrEqual(number, first) & Vector256.LessThan(number, end)).AsSingle();
            V g2 = g * g;
            V cos = Vector256.FusedMultiplyAdd(g2, Vector256.FusedMultiplyAdd(g2, Vector256.Create(job->C4), Vector256.Create(job->C2)), V.One);
            V sin = g * Vector256.FusedMultiplyAdd(g2, Vector256.FusedMultiplyAdd(g2, Vector256.Create(job->S5), Vector256.Create(job->S3)), Vector256.Create(job->S1));
            AddTurned(weight * a, weight * b, cos, sin, job->Sums[i] + k, job->PaddedLevels);
        }
    }

    /// <summary>The samples at fraction g from the middle of each interval.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Samples(byte* records, int* indices, V g, out V a, out V b)
    {
        V z0 = Pair(records, indices), z1 = Pair(records, indices + 1), z2 = Pair(records, indices + 2), z3 = Pair(records, indices + 3);
        V t0 = Avx.UnpackLow(z0, z1), t1 = Avx.UnpackHigh(z0, z1), t2 = Avx.UnpackLow(z2, z3), t3 = Avx.UnpackHigh(z2, z3);
        a = Vector256.FusedMultiplyAdd(g, Avx.Shuffle(t1, t3, 0x44), Avx.Shuffle(t0, t2, 0x44));
        b = Vector256.FusedMultiplyAdd(g, Avx.Shuffle(t1, t3, 0xEE), Avx.Shuffle(t0, t2, 0xEE));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void AddTurned(V a, V b, V cos, V sin, float* real, int padded)
    {
        float* imaginary = real + padded, square = imaginary + padded;
        V re = Vector256.FusedMultiplyAdd(a, cos, Vector256.LoadAligned(real));
        V im = Vector256.FusedMultiplyAdd(a, sin, Vector256.LoadAligned(imaginary));
        V sq = Vector256.FusedMultiplyAdd(a, a, Vector256.LoadAligned(square));
        Vector256.FusedMultiplyAdd(-b, sin, re).StoreAligned(real);
        Vector256.FusedMultiplyAdd(b, cos, im).StoreAligned(imaginary);
        Vector256.FusedMultiplyAdd(b, b, sq).StoreAligned(square);
    }

    /// <summary>The records of one level and of that four further on, in the two halves.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V Pair(byte* records, int* index) =>
        Avx.InsertVector128(Vector128.Load((float*)(records + index[0])).ToVector256Unsafe(), Vector128.Load((float*)(records + index[4])), 1);
}
