using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>Refracted leg times without solving for the ray, eight columns at a time, in samples.</summary>
/// <remarks>
/// For ray parameter p, L(p) = p·o + h·√(1/c₁² − p²) + B·√(1/c₂² − p²) is greatest at the true ray, where it is the travel time (Fermat's principle in
/// Legendre's form). So a guess of p that is wrong by δ gives a time that is wrong by δ² only. The guess p² = v² / (1 + v²·m₃/m₁ + ¾v⁴(m₅m₁ − m₃²)/m₁²), v = o/m₁,
/// m_n = h·c₁ⁿ + B·c₂ⁿ, has the right first three terms of the series of p in the offset and is exact for equal speeds; m₅m₁ − m₃² = hB·c₁c₂(c₁² − c₂²)². Where the speeds differ much, the value at
/// the top of the parabola through L, L′ and L″ is taken: L + (o − X)² / 2X′, with X = −(L − p·o)′. Derivation and errors: docs/science/focusing.md.
/// </remarks>
internal sealed class LegTimes
{
    private readonly float _v1, _v2, _v1Cubed, _v2Cubed, _slowness1, _slowness2, _spread;
    private readonly bool _refine;

    /// <param name="c1">Sound speed in the water, m/s.</param>
    /// <param name="c2">Sound speed in the sediment, m/s.</param>
    /// <param name="interval">The unit of the times, seconds.</param>
    /// <param name="refine">Take the top of the parabola.</param>
    public LegTimes(double c1, double c2, double interval, bool refine)
    {
        double v1 = c1 * interval, v2 = c2 * interval;
        (_v1, _v2, _v1Cubed, _v2Cubed) = ((float)v1, (float)v2, (float)(v1 * v1 * v1), (float)(v2 * v2 * v2));
        (_slowness1, _slowness2) = ((float)(1 / (v1 * v1)), (float)(1 / (v2 * v2)));
        _spread = (float)(0.75 * v1 * v2 * Math.Pow(v1 * v1 - v2 * v2, 2));
        _refine = refine;
    }

    /// <summary>The time, in intervals, of a leg of height h, burial B along the normal and squared in-plane offset o².</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector256<float> At(Vector256<float> height, Vector256<float> burial, Vector256<float> offsetSquared)
    {
        Vector256<float> m1 = Vector256.FusedMultiplyAdd(burial, Vector256.Create(_v2), height * _v1);
        Vector256<float> m3 = Vector256.FusedMultiplyAdd(burial, Vector256.Create(_v2Cubed), height * _v1Cubed);
        Vector256<float> m1Cubed = m1 * m1 * m1, low = m1Cubed * Vector256.FusedMultiplyAdd(offsetSquared, m3, m1Cubed);
        Vector256<float> p2 = offsetSquared * (m1 * m1Cubed) / Vector256.FusedMultiplyAdd(height * burial * _spread, offsetSquared * offsetSquared, low);
        Vector256<float> q1 = Vector256.Sqrt(Vector256.Create(_slowness1) - p2);
        Vector256<float> q2 = Vector256.Sqrt(Vector256.Max(Vector256.Create(_slowness2) - p2, Vector256.Create(1e-4f * _slowness2)));
        Vector256<float> time = Vector256.FusedMultiplyAdd(burial, q2, Vector256.FusedMultiplyAdd(height, q1, Vector256.Sqrt(p2 * offsetSquared)));
        return _refine ? time + Correction(height, burial, offsetSquared, p2, q1, q2) : time;
    }

    private Vector256<float> Correction(
        Vector256<float> height, Vector256<float> burial, Vector256<float> offsetSquared, Vector256<float> p2, Vector256<float> q1, Vector256<float> q2)
    {
        Vector256<float> h = height / q1, b = burial / q2;
        Vector256<float> miss = Vector256.Sqrt(offsetSquared) - Vector256.Sqrt(p2) * (h + b);
        Vector256<float> steepness = h * _slowness1 / (q1 * q1) + b * _slowness2 / (q2 * q2);
        return 0.5f * miss * miss / steepness;
    }
}
