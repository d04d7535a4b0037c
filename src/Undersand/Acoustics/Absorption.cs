namespace Undersand.Acoustics;

/// <summary>Absorption of sound in sea water, dB/km.</summary>
/// <remarks>See docs/science/absorption.md. Over the few metres of this trade it is small: 18 kHz lose 0.003 dB per metre.</remarks>
public static class Absorption
{
    /// <summary>
    /// Francois and Garrison (1982), JASA 72, 896–907 and 1879–1890. Valid for 200 Hz – 1 MHz; about 5 % within −2–22 °C, S 30–35, 10–500 kHz.
    /// </summary>
    /// <param name="frequency">Hertz.</param>
    /// <param name="temperature">t, °C.</param>
    /// <param name="salinity">S, practical salinity.</param>
    /// <param name="depth">D, metres below the surface.</param>
    /// <param name="acidity">pH.</param>
    /// <returns>dB/km.</returns>
    public static double FrancoisGarrison(double frequency, double temperature, double salinity, double depth = 0, double acidity = 8)
    {
        SeaWaterAbsorption parts = FrancoisGarrisonParts(frequency, temperature, salinity, depth, acidity);
        return parts.BoricAcid + parts.MagnesiumSulphate + parts.PureWater;
    }

    /// <summary>The three parts of <see cref="FrancoisGarrison"/>.</summary>
    /// <param name="frequency">Hertz.</param>
    /// <param name="temperature">t, °C.</param>
    /// <param name="salinity">S, practical salinity.</param>
    /// <param name="depth">D, metres below the surface.</param>
    /// <param name="acidity">pH.</param>
    public static SeaWaterAbsorption FrancoisGarrisonParts(double frequency, double temperature, double salinity, double depth = 0, double acidity = 8)
    {
        double f = frequency / 1000, t = temperature, S = salinity, D = depth, theta = 273 + t;
        double c = 1412 + 3.21 * t + 1.19 * S + 0.0167 * D;
        double A1 = 8.86 / c * Math.Pow(10, 0.78 * acidity - 5);
        double f1 = 2.8 * Math.Sqrt(S / 35) * Math.Pow(10, 4 - 1245 / theta);
        double A2 = 21.44 * S / c * (1 + 0.025 * t), P2 = 1 - 1.37e-4 * D + 6.2e-9 * D * D;
        double f2 = 8.17 * Math.Pow(10, 8 - 1990 / theta) / (1 + 0.0018 * (S - 35));
        double A3 = t <= 20
            ? 4.937e-4 + t * (-2.59e-5 + t * (9.11e-7 - 1.50e-8 * t))
            : 3.964e-4 + t * (-1.146e-5 + t * (1.45e-7 - 6.5e-10 * t));
        double P3 = 1 - 3.83e-5 * D + 4.9e-10 * D * D;
        return new SeaWaterAbsorption(A1 * Relaxation(f1, f), A2 * P2 * Relaxation(f2, f), A3 * P3 * f * f);
    }

    /// <summary>Ainslie and McColm (1998), JASA 103, 1671–1672: simpler, within 10 % of Francois and Garrison for −6–35 °C, S 5–50, pH 7.7–8.3, 0.1–1000 kHz.</summary>
    /// <param name="frequency">Hertz.</param>
    /// <param name="temperature">t, °C.</param>
    /// <param name="salinity">S, practical salinity.</param>
    /// <param name="depth">Metres below the surface.</param>
    /// <param name="acidity">pH.</param>
    /// <returns>dB/km.</returns>
    public static double AinslieMcColm(double frequency, double temperature, double salinity, double depth = 0, double acidity = 8)
    {
        double f = frequency / 1000, t = temperature, S = salinity, z = depth / 1000;
        double f1 = 0.78 * Math.Sqrt(S / 35) * Math.Exp(t / 26), f2 = 42 * Math.Exp(t / 17);
        return 0.106 * Relaxation(f1, f) * Math.Exp((acidity - 8) / 0.56)
            + 0.52 * (1 + t / 43) * (S / 35) * Relaxation(f2, f) * Math.Exp(-z / 6)
            + 4.9e-4 * f * f * Math.Exp(-(t / 27 + z / 17));
    }

    /// <summary>f_r f²/(f_r² + f²); 0 where there is no salt and so no relaxation.</summary>
    private static double Relaxation(double fr, double f) => fr == 0 ? 0 : fr * f * f / (fr * fr + f * f);
}
