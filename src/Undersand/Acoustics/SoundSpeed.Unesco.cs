namespace Undersand.Acoustics;

/// <content>The UNESCO equation in its two forms.</content>
public static partial class SoundSpeed
{
    // C_i: powers of t in the coefficient of Pⁱ for pure water; A_i for S. Fofonoff and Millard (1983), UNESCO Technical Papers in Marine Science 44.
    private static readonly double[][] C68 =
    [
        [1402.388, 5.03711, -5.80852e-2, 3.3420e-4, -1.47800e-6, 3.1464e-9],
        [0.153563, 6.8982e-4, -8.1788e-6, 1.3621e-7, -6.1185e-10],
        [3.1260e-5, -1.7107e-6, 2.5974e-8, -2.5335e-10, 1.0405e-12],
        [-9.7729e-9, 3.8504e-10, -2.3643e-12],
    ];

    private static readonly double[][] A68 =
    [
        [1.389, -1.262e-2, 7.164e-5, 2.006e-6, -3.21e-8],
        [9.4742e-5, -1.2580e-5, -6.4885e-8, 1.0507e-8, -2.0122e-10],
        [-3.9064e-7, 9.1041e-9, -1.6002e-10, 7.988e-12],
        [1.100e-10, 6.649e-12, -3.389e-13],
    ];

    // Wong and Zhu (1995), JASA 97, 1732–1736.
    private static readonly double[][] C90 =
    [
        [1402.388, 5.03830, -5.81090e-2, 3.3432e-4, -1.47797e-6, 3.1419e-9],
        [0.153563, 6.8999e-4, -8.1829e-6, 1.3632e-7, -6.1260e-10],
        [3.1260e-5, -1.7111e-6, 2.5986e-8, -2.5353e-10, 1.0415e-12],
        [-9.7729e-9, 3.8513e-10, -2.3654e-12],
    ];

    private static readonly double[][] A90 =
    [
        [1.389, -1.262e-2, 7.166e-5, 2.008e-6, -3.21e-8],
        [9.4742e-5, -1.2583e-5, -6.4928e-8, 1.0515e-8, -2.0142e-10],
        [-3.9064e-7, 9.1061e-9, -1.6009e-10, 7.994e-12],
        [1.100e-10, 6.651e-12, -3.391e-13],
    ];

    /// <summary>Chen and Millero (1977), JASA 62, 1129–1135, the UNESCO equation of 1983, for temperatures of the scale of 1968. Valid 0–40 °C, S 0–40, 0–10 000 dbar.</summary>
    /// <param name="temperature68">t, °C, IPTS-68 (1.00024 times that of ITS-90).</param>
    /// <param name="salinity">S, practical salinity.</param>
    /// <param name="pressure">dbar above the atmosphere's; the formula's P is in bar.</param>
    public static double Unesco(double temperature68, double salinity, double pressure) =>
        Unesco(C68, A68, 1.7945e-7, temperature68, salinity, pressure / 10);

    /// <summary>The same equation for temperatures of today's scale: Wong and Zhu (1995), JASA 97, 1732–1736.</summary>
    /// <param name="temperature">t, °C, ITS-90.</param>
    /// <param name="salinity">S, practical salinity.</param>
    /// <param name="pressure">dbar above the atmosphere's.</param>
    public static double UnescoWongZhu(double temperature, double salinity, double pressure) =>
        Unesco(C90, A90, 1.7950e-7, temperature, salinity, pressure / 10);

    /// <summary>c = C_w(t,P) + A(t,P) S + B(t,P) S^(3/2) + D(P) S².</summary>
    private static double Unesco(double[][] C, double[][] A, double b11, double t, double S, double P)
    {
        double B = -1.922e-2 - 4.42e-5 * t + (7.3637e-5 + b11 * t) * P, D = 1.727e-3 - 7.9836e-6 * P;
        return InPressure(C, t, P) + S * (InPressure(A, t, P) + B * Math.Sqrt(S) + D * S);
    }

    private static double InPressure(double[][] rows, double t, double P)
    {
        double sum = 0;
        for (int i = rows.Length - 1; i >= 0; i--)
        {
            double inT = 0;
            for (int j = rows[i].Length - 1; j >= 0; j--)
                inT = inT * t + rows[i][j];
            sum = sum * P + inT;
        }
        return sum;
    }
}
