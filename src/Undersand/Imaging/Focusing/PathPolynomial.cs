using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>The path time down a column as a polynomial of degree 6, eight columns at a time.</summary>
/// <remarks>
/// Through seven nodes at z = 0, ±0.5, ±0.875, ±1 (near the extrema of Chebyshev's polynomial, exact in binary). The part linear in z, hundreds of samples, is
/// taken out before the small rest is solved for, so that single precision loses nothing of it.
/// </remarks>
internal static class PathPolynomial
{
    public const int Nodes = 7;
    private const float Inner = 0.5f, Outer = 0.875f;

    // With u = z²: the odd rest d_j/z_j = c3 (u_j − 1) + c5 (u_j² − 1) at the two inner nodes, and the even part e_j = c2 u_j + c4 u_j² + c6 u_j³ at three.
    private static readonly double[,] Odd = Invert(new[,]
    {
        { Inner * (U(Inner) - 1), Inner * (U(Inner) * U(Inner) - 1) },
        { Outer * (U(Outer) - 1), Outer * (U(Outer) * U(Outer) - 1) },
    });

    private static readonly double[,] Even = Invert(new[,]
    {
        { U(Inner), Math.Pow(U(Inner), 2), Math.Pow(U(Inner), 3) },
        { U(Outer), Math.Pow(U(Outer), 2), Math.Pow(U(Outer), 3) },
        { 1, 1, 1 },
    });

    private static readonly float
        O00 = (float)(0.5 * Odd[0, 0]), O01 = (float)(0.5 * Odd[0, 1]), O10 = (float)(0.5 * Odd[1, 0]), O11 = (float)(0.5 * Odd[1, 1]),
        E00 = (float)(0.5 * Even[0, 0]), E01 = (float)(0.5 * Even[0, 1]), E02 = (float)(0.5 * Even[0, 2]),
        E10 = (float)(0.5 * Even[1, 0]), E11 = (float)(0.5 * Even[1, 1]), E12 = (float)(0.5 * Even[1, 2]),
        E20 = (float)(0.5 * Even[2, 0]), E21 = (float)(0.5 * Even[2, 1]), E22 = (float)(0.5 * Even[2, 2]);

    /// <summary>Where the nodes lie, in the order in which values are given: 0, then −, + from the inside out.</summary>
    public static ReadOnlySpan<float> NodePlaces => [0, -Inner, Inner, -Outer, Outer, -1, 1];

    /// <summary>The polynomial of a path from the times of its two legs at the nodes, both in intervals; the differences are small, so nothing is lost.</summary>
    /// <param name="source">Seven times of one leg, in the order of <see cref="NodePlaces"/>.</param>
    /// <param name="receiver">Seven times of the other.</param>
    /// <param name="fraction">Taken off the path time.</param>
    /// <param name="into">Coefficient m at 8·m; coefficient 0 is counted from <paramref name="origin"/>.</param>
    /// <param name="origin">Whole intervals taken off.</param>
    /// <param name="least">What the polynomial gives at z = −1.</param>
    /// <param name="greatest">And at z = 1.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static unsafe void OfPath(
        Vector256<float>* source, Vector256<float>* receiver, float fraction, float* into,
        out Vector256<int> origin, out Vector256<float> least, out Vector256<float> greatest)
    {
        Vector256<float> s = source[0], r = receiver[0];
        origin = Vector256.ConvertToInt32Native(Vector256.Round(s + r));
        Vector256<float> middle = (s - Vector256.ConvertToSingle(origin)) + r - Vector256.Create(fraction);
        Vector256<float> d1 = (source[1] - s) + (receiver[1] - r), d2 = (source[2] - s) + (receiver[2] - r), d3 = (source[3] - s) + (receiver[3] - r);
        Vector256<float> d4 = (source[4] - s) + (receiver[4] - r), d5 = (source[5] - s) + (receiver[5] - r), d6 = (source[6] - s) + (receiver[6] - r);
        middle.Store(into);
        (least, greatest) = (middle + d5, middle + d6);
        Solve(d1, d2, d3, d4, d5, d6, into);
    }

    /// <summary>Coefficients 1 to 6 (not 0) through seven values, given at the nodes −0.5, 0.5, −0.875, 0.875, −1, 1 less the value at 0; coefficient m at 8·m.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static unsafe void Solve(
        Vector256<float> d1, Vector256<float> d2, Vector256<float> d3, Vector256<float> d4, Vector256<float> d5, Vector256<float> d6, float* into)
    {
        Vector256<float> o1 = d2 - d1, o2 = d4 - d3, o3 = d6 - d5;
        Vector256<float> e1 = d2 + d1, e2 = d4 + d3, e3 = d6 + d5;
        o1 = Vector256.FusedMultiplyAdd(o3, Vector256.Create(-Inner), o1);
        o2 = Vector256.FusedMultiplyAdd(o3, Vector256.Create(-Outer), o2);
        Vector256<float> c3 = o1 * O00 + o2 * O01, c5 = o1 * O10 + o2 * O11;
        (0.5f * o3 - c3 - c5).Store(into + 8);
        c3.Store(into + 24);
        c5.Store(into + 40);
        (e1 * E00 + e2 * E01 + e3 * E02).Store(into + 16);
        (e1 * E10 + e2 * E11 + e3 * E12).Store(into + 32);
        (e1 * E20 + e2 * E21 + e3 * E22).Store(into + 48);
    }

    private static double U(double z) => z * z;

    private static double[,] Invert(double[,] m)
    {
        int n = m.GetLength(0);
        var a = (double[,])m.Clone();
        var inverse = new double[n, n];
        for (int i = 0; i < n; i++)
            inverse[i, i] = 1;
        for (int i = 0; i < n; i++)
        {
            double pivot = a[i, i];
            for (int j = 0; j < n; j++)
                (a[i, j], inverse[i, j]) = (a[i, j] / pivot, inverse[i, j] / pivot);
            for (int k = 0; k < n; k++)
            {
                double factor = a[k, i];
                for (int j = 0; k != i && j < n; j++)
                    (a[k, j], inverse[k, j]) = (a[k, j] - factor * a[i, j], inverse[k, j] - factor * inverse[i, j]);
            }
        }
        return inverse;
    }
}
