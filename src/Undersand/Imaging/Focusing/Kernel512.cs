using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using V = System.Runtime.Intrinsics.Vector512<float>;

namespace Undersand.Imaging.Focusing;

/// <summary>The sum over sixteen levels at a time, for AVX-512.</summary>
internal static unsafe class Kernel512
{
    private const int Width = 16;

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
        V scale = Vector512.Create(job->MapScale[column]), shift = Vector512.Create(job->MapShift[column]);
        V p0 = Vector512.Create(c[0]), p1 = Vector512.Create(c[8]), p2 = Vector512.Create(c[16]), p3 = Vector512.Create(c[24]);
        V p4 = Vector512.Create(c[32]), p5 = Vector512.Create(c[40]), p6 = Vector512.Create(c[48]);
        for (int k = from; k < padded; k += Width)
        {
            V z = Vector512.FusedMultiplyAdd(Vector512.LoadAligned(mapped + k), scale, shift);
            V v = Vector512.FusedMultiplyAdd(z, p6, p5);
            v = Vector512.FusedMultiplyAdd(z, v, p4);
            v = Vector512.FusedMultiplyAdd(z, v, p3);
            v = Vector512.FusedMultiplyAdd(z, v, p2);
            v = Vector512.FusedMultiplyAdd(z, v, p1);
            v = Vector512.FusedMultiplyAdd(z, v, p0);
            Vector512<int> index = Wide.Nearest(v);
            (v - Vector512.ConvertToSingle(index)).StoreAligned(fractions + k);
            (index << 4).StoreAligned(indices + k);
        }

        byte* records = job->Records[i];
        float* sums = job->Sums[i];
        V one = V.One, c2 = Vector512.Create(job->C2), c4 = Vector512.Create(job->C4);
        V s1 = Vector512.Create(job->S1), s3 = Vector512.Create(job->S3), s5 = Vector512.Create(job->S5);
        for (int k = from; k < padded; k += Width)
        {
            V g = Vector512.LoadAligned(fractions + k);
            Samples(records, indices + k, g, out V a, out V b);
            V g2 = g * g;
            V cos = Vector512.FusedMultiplyAdd(g2, Vector512.FusedMultiplyAdd(g2, c4, c2), one);
            V sin = g * Vector512.FusedMultiplyAdd(g2, Vector512.FusedMultiplyAdd(g2, s5, s3), s1);
            AddTurned(a, b, cos, sin, sums + k, padded);
        }
    }

    /// <summary>Levels of which some are tapered, before the first, behind the last, or outside the trace.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void AddEdge(RowJob* job, int i, int column, float* c, int from, int to)
    {
        int* indices = job->Indices;
        V scale = Vector512.Create(job->MapScale[column]), shift = Vector512.Create(job->MapShift[column]);
        V start = Vector512.Create(job->WeightStart[i]), rise = Vector512.Create(job->WeightRise[i]);
        V least = Vector512.Create(job->LeastPlace[i]), greatest = Vector512.Create(job->GreatestPlace[i]);
        Vector512<int> first = Vector512.Create(job->First[i]), end = Vector512.Create(job->End[i]);
        for (int k = from; k < to; k += Width)
        {
            V z = Vector512.FusedMultiplyAdd(Vector512.LoadAligned(job->Mapped + k), scale, shift);
            V v = Vector512.Create(c[48]);
            for (int m = 40; m >= 0; m -= 8)
                v = Vector512.FusedMultiplyAdd(z, v, Vector512.Create(c[m]));
            v = Vector512.MinNative(Vector512.MaxNative(v, least), greatest);
            Vector512<int> index = Wide.Nearest(v), number = Vector512.Create(k) + Vector512<int>.Indices;
            V g = v - Vector512.ConvertToSingle(index);
            (index << 4).StoreAligned(indices);
            Samples(job->Records[i], indices, g, out V a, out V b);
            V weight = (Vector512.LoadAligned(job->LevelNumbers + k) - start) * rise;
            weight = Vector512.MinNative(Vector512.MaxNative(weight, V.Zero), V.One);
            weight &= (Vector512.GreaterThanOrEqual(number, first) & Vector512.LessThan(number, end)).AsSingle();
            V g2 = g * g;
            V cos = Vector512.FusedMultiplyAdd(g2, Vector512.FusedMultiplyAdd(g2, Vector512.Create(job->C4), Vector512.Create(job->C2)), V.One);
            V sin = g * Vector512.FusedMultiplyAdd(g2, Vector512.FusedMultiplyAdd(g2, Vector512.Create(job->S5), Vector512.Create(job->S3)), Vector512.Create(job->S1));
            AddTurned(weight * a, weight * b, cos, sin, job->Sums[i] + k, job->PaddedLevels);
        }
    }

    /// <summary>The samples at fraction g from the middle of each interval.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Samples(byte* records, int* indices, V g, out V a, out V b)
    {
        V z0 = Wide.Quad(records, indices), z1 = Wide.Quad(records, indices + 1), z2 = Wide.Quad(records, indices + 2), z3 = Wide.Quad(records, indices + 3);
        V t0 = Wide.UnpackLow(z0, z1), t1 = Wide.UnpackHigh(z0, z1), t2 = Wide.UnpackLow(z2, z3), t3 = Wide.UnpackHigh(z2, z3);
        a = Vector512.FusedMultiplyAdd(g, Wide.FirstPairs(t1, t3), Wide.FirstPairs(t0, t2));
        b = Vector512.FusedMultiplyAdd(g, Wide.LastPairs(t1, t3), Wide.LastPairs(t0, t2));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void AddTurned(V a, V b, V cos, V sin, float* real, int padded)
    {
        float* imaginary = real + padded, square = imaginary + padded;
        V re = Vector512.FusedMultiplyAdd(a, cos, Vector512.LoadAligned(real));
        V im = Vector512.FusedMultiplyAdd(a, sin, Vector512.LoadAligned(imaginary));
        V sq = Vector512.FusedMultiplyAdd(a, a, Vector512.LoadAligned(square));
        Vector512.FusedMultiplyAdd(-b, sin, re).StoreAligned(real);
        Vector512.FusedMultiplyAdd(b, cos, im).StoreAligned(imaginary);
        Vector512.FusedMultiplyAdd(b, b, sq).StoreAligned(square);
    }
}
