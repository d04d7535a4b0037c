namespace Undersand.Acoustics;

/// <summary>Exact travel through a plane seabed: the ray that obeys Snell's law, and its time.</summary>
/// <remarks>
/// Fermat's principle and Snell's law, t = min over u of √(h²+u²)/c₁ + √(z²+(x−u)²)/c₂; textbook (e.g. Born and Wolf, Principles of Optics,
/// §3.3; from memory). The numerical method is our own and is derived in docs/science/refraction.md.
/// The refracted path exists for every offset when the point is buried (z &gt; 0). On the seabed itself (z = 0) the leg is the straight
/// path in the water; for a faster sediment the time therefore jumps at z = 0 beyond the critical angle, where a vanishingly buried
/// point is reached sooner along the seabed (the lateral wave).
/// </remarks>
public static class Refraction
{
    private const int GreatestNumberOfSteps = 60;

    /// <summary>|X''w/X'| is below 3, so a step of this relative size leaves an error below 1.5 times its square.</summary>
    private const double Settled = 1e-8;

    /// <summary>One-way travel time through a plane seabed, seconds.</summary>
    /// <param name="height">h: height of the source or receiver above the seabed, metres, above 0.</param>
    /// <param name="burial">z: burial of the point below the seabed, metres, 0 or more.</param>
    /// <param name="offset">x: distance along the seabed between the two, metres, 0 or more.</param>
    /// <param name="c1">Sound speed in the water, m/s.</param>
    /// <param name="c2">Sound speed in the sediment, m/s.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range or not finite.</exception>
    public static double LegTime(double height, double burial, double offset, double c1, double c2) =>
        Leg(height, burial, offset, c1, c2).Time;

    /// <summary>The refracted ray through a plane seabed: time, crossing point, angles and lengths.</summary>
    /// <param name="height">h: height of the source or receiver above the seabed, metres, above 0.</param>
    /// <param name="burial">z: burial of the point below the seabed, metres, 0 or more.</param>
    /// <param name="offset">x: distance along the seabed between the two, metres, 0 or more.</param>
    /// <param name="c1">Sound speed in the water, m/s.</param>
    /// <param name="c2">Sound speed in the sediment, m/s.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range or not finite.</exception>
    public static RefractedLeg Leg(double height, double burial, double offset, double c1, double c2)
    {
        Check(height, burial, offset, c1, c2);
        if (burial == 0)
            return InWaterOnly(height, offset, c1, c2);
        bool sedimentIsFaster = c2 >= c1;
        double fast = sedimentIsFaster ? burial : height, slow = sedimentIsFaster ? height : burial;
        double cFast = Math.Max(c1, c2), cSlow = Math.Min(c1, c2), gamma = cSlow / cFast;
        // 1 − γ², from the difference of the speeds so that nearly equal ones keep their digits.
        double a = (cFast - cSlow) / cFast * (1 + gamma);
        double w = TangentInFaster(fast, slow, offset, gamma, a);
        (double sinFast, double cosFast) = SineCosine(w);
        double sinSlow = gamma * sinFast, cosSlow = Math.Sqrt(cosFast * cosFast + a * sinFast * sinFast);
        double s1 = sedimentIsFaster ? sinSlow : sinFast, k1 = sedimentIsFaster ? cosSlow : cosFast;
        double s2 = sedimentIsFaster ? sinFast : sinSlow, k2 = sedimentIsFaster ? cosFast : cosSlow;
        // p x + Σ d cos θ / c is stationary in the ray parameter p at the root, so what is left of the root's error enters squared.
        double time = s1 / c1 * offset + height * k1 / c1 + burial * k2 / c2;
        // The two parts of the offset add up to x; the smaller is the better known.
        double inWater = height * s1 / k1, inSediment = burial * s2 / k2;
        double crossing = inWater <= inSediment ? inWater : Math.Max(0, offset - inSediment);
        return new RefractedLeg(time, crossing, s1, k1, s2, k2,
            Math.Sqrt(height * height + crossing * crossing), Math.Sqrt(burial * burial + (offset - crossing) * (offset - crossing)));
    }

    /// <summary>The critical angle from the normal: beyond it a plane wave in the water is totally reflected. Null where the sediment is not faster.</summary>
    /// <param name="c1">Sound speed in the water, m/s.</param>
    /// <param name="c2">Sound speed in the sediment, m/s.</param>
    public static Angle? CriticalAngle(double c1, double c2) => c2 > c1 ? new Angle(Math.Asin(c1 / c2)) : null;

    /// <summary>
    /// Solves d_fast·w + d_slow·γw/√(1+(1−γ²)w²) = x for w, the tangent of the angle in the faster medium. The left side rises and is
    /// concave in w, so Newton's steps from a point left of the root never pass it; the start is the greater of two lower bounds.
    /// </summary>
    private static double TangentInFaster(double fast, double slow, double offset, double gamma, double a)
    {
        double w = offset / (fast + slow * gamma);
        if (a > 0)
            w = Math.Max(w, (offset - slow * gamma / Math.Sqrt(a)) / fast);
        for (int step = 0; step < GreatestNumberOfSteps && w > 0; step++)
        {
            double root = Math.Sqrt(1 / (w * w) + a);
            double left = offset - fast * w - slow * gamma / root;
            double slope = fast + slow * gamma / (root * root * root * w * w * w);
            if (!double.IsFinite(slope))
                break;
            double next = w + left / slope;
            if (!(next > w))
                break;
            bool settled = next - w < Settled * next;
            w = next;
            if (settled)
                break;
        }
        return w;
    }

    private static (double Sine, double Cosine) SineCosine(double tangent) =>
        tangent <= 1
            ? (tangent / Math.Sqrt(1 + tangent * tangent), 1 / Math.Sqrt(1 + tangent * tangent))
            : (1 / Math.Sqrt(1 + 1 / (tangent * tangent)), 1 / (tangent * Math.Sqrt(1 + 1 / (tangent * tangent))));

    private static RefractedLeg InWaterOnly(double height, double offset, double c1, double c2)
    {
        double length = double.Hypot(height, offset);
        double s1 = offset / length, s2 = s1 * c2 / c1;
        return new RefractedLeg(length / c1, offset, s1, height / length, s2, Math.Sqrt(Math.Max(0, (1 - s2) * (1 + s2))), length, 0);
    }

    private static void Check(double height, double burial, double offset, double c1, double c2)
    {
        if (!(height > 0 && double.IsFinite(height)))
            throw new ArgumentOutOfRangeException(nameof(height), height, "the height above the seabed is finite and above 0 m");
        if (!(burial >= 0 && double.IsFinite(burial)))
            throw new ArgumentOutOfRangeException(nameof(burial), burial, "the burial is finite and not negative");
        if (!(offset >= 0 && double.IsFinite(offset)))
            throw new ArgumentOutOfRangeException(nameof(offset), offset, "the offset is finite and not negative");
        if (!(c1 > 0 && double.IsFinite(c1)))
            throw new ArgumentOutOfRangeException(nameof(c1), c1, "a sound speed is finite and above 0 m/s");
        if (!(c2 > 0 && double.IsFinite(c2)))
            throw new ArgumentOutOfRangeException(nameof(c2), c2, "a sound speed is finite and above 0 m/s");
    }
}
