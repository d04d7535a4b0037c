namespace Undersand.Detection;

/// <summary>The few special functions that Detection needs, in double precision.</summary>
internal static class SpecialFunctions
{
    // Lanczos coefficients, g = 7, n = 9 (Lanczos 1964; widely reproduced; tested against factorials).
    private static readonly double[] Lanczos =
    [
        0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
        12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
    ];

    public static double Expm1(double x) => Math.Abs(x) < 1e-5 ? x * (1 + 0.5 * x * (1 + x / 3)) : Math.Exp(x) - 1;

    public static double LogGamma(double x)
    {
        if (x < 0.5)
            return Math.Log(Math.PI / Math.Abs(Math.Sin(Math.PI * x))) - LogGamma(1 - x);
        double y = x - 1, sum = Lanczos[0];
        for (int i = 1; i < 9; i++)
            sum += Lanczos[i] / (y + i);
        double t = y + 7.5;
        return 0.5 * Math.Log(2 * Math.PI) + (y + 0.5) * Math.Log(t) - t + Math.Log(sum);
    }

    /// <summary>I_x(a, b) by its continued fraction, evaluated by Lentz's way.</summary>
    public static double RegularizedBeta(double a, double b, double x)
    {
        if (x <= 0)
            return 0;
        if (x >= 1)
            return 1;
        if (x > (a + 1) / (a + b + 2))
            return 1 - RegularizedBeta(b, a, 1 - x);
        double front = Math.Exp(LogGamma(a + b) - LogGamma(a) - LogGamma(b) + a * Math.Log(x) + b * Math.Log(1 - x)) / a;
        double f = 1, c = 1, d = 0;
        for (int i = 0; i <= 500; i++)
        {
            int m = i / 2;
            double numerator = i == 0 ? 1
                : i % 2 == 0 ? m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
                : -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
            d = 1 / NotZero(1 + numerator * d);
            c = NotZero(1 + numerator / c);
            f *= c * d;
            if (Math.Abs(1 - c * d) < 1e-15)
                break;
        }
        return front * (f - 1);
    }

    private static double NotZero(double x) => Math.Abs(x) < 1e-300 ? 1e-300 : x;

    /// <summary>K_ν(x) = ∫₀^∞ exp(−x cosh t) cosh νt dt by the trapezoidal rule, which converges exponentially for this integrand.</summary>
    public static double BesselK(double order, double x)
    {
        const double step = 1.0 / 64;
        double sum = 0.5 * Math.Exp(-x);
        for (int i = 1; i < 4000; i++)
        {
            double t = i * step, term = Math.Exp(-x * Math.Cosh(t)) * Math.Cosh(order * t);
            sum += term;
            if (term < 1e-18 * sum)
                break;
        }
        return sum * step;
    }
}
