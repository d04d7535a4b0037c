namespace Undersand.Acoustics;

/// <summary>Spherical Bessel functions of real argument, all orders from 0 at once.</summary>
/// <remarks>
/// Recurrence f_{n+1} = (2n+1)/x f_n − f_{n−1} (DLMF 10.51.1): upwards for y_n, which grows; downwards for j_n from well above the highest
/// order wanted (Miller's algorithm, DLMF 3.6(ii)), scaled by the larger of j₀ and j₁. Relative error about 1e-13.
/// </remarks>
internal static class SphericalBessel
{
    private const double Large = 1e200;

    /// <summary>j_0(x) … j_highest(x).</summary>
    public static double[] First(int highest, double x)
    {
        double[] j = new double[highest + 1];
        if (x == 0)
        {
            j[0] = 1;
            return j;
        }
        int start = Math.Max(highest, (int)x) + 30 + (int)(2 * Math.Sqrt(40 + Math.Max(highest, x)));
        double above = 0, here = 1e-250, f1 = 0;
        for (int n = start; n > 0; n--)
        {
            // here is proportional to j_n, above to j_{n+1}.
            if (n <= highest)
                j[n] = here;
            if (n == 1)
                f1 = here;
            double below = (2 * n + 1) / x * here - above;
            (above, here) = (here, below);
            if (Math.Abs(here) > Large)
                Shrink(j, ref above, ref here, ref f1);
        }
        double f0 = j[0] = here;
        double j0 = Math.Sin(x) / x, j1 = FirstOrderOne(x);
        double scale = Math.Abs(j0) >= Math.Abs(j1) ? j0 / f0 : j1 / f1;
        for (int n = 0; n <= highest; n++)
            j[n] *= scale;
        return j;
    }

    /// <summary>y_0(x) … y_highest(x); −∞ once beyond the range of doubles.</summary>
    public static double[] Second(int highest, double x)
    {
        double[] y = new double[highest + 1];
        y[0] = -Math.Cos(x) / x;
        if (highest > 0)
            y[1] = (y[0] - Math.Sin(x)) / x;
        for (int n = 1; n < highest; n++)
            y[n + 1] = double.IsFinite(y[n]) ? (2 * n + 1) / x * y[n] - y[n - 1] : double.NegativeInfinity;
        return y;
    }

    /// <summary>j₁(x) without the cancellation at small x.</summary>
    private static double FirstOrderOne(double x)
    {
        if (x > 0.5)
            return (Math.Sin(x) / x - Math.Cos(x)) / x;
        double term = x / 3, sum = term, y = x * x / 2;
        for (int k = 1; k < 20; k++)
            sum += term *= -y / (k * (2 * k + 3));
        return sum;
    }

    private static void Shrink(double[] j, ref double above, ref double here, ref double f1)
    {
        for (int n = 0; n < j.Length; n++)
            j[n] /= Large;
        above /= Large;
        here /= Large;
        f1 /= Large;
    }
}
