namespace Undersand.Acoustics;

/// <summary>Speed of sound in sea water, m/s, by the formulas in use. They differ by up to 0.36 m/s near the surface; see docs/science/sound-speed.md.</summary>
public static partial class SoundSpeed
{
    /// <summary>
    /// Sound speed from what a survey is told, by TEOS-10 (75 terms, reference salinity; <see cref="Teos10"/>), at the pressure of latitude 45°
    /// (a depth of 100 m elsewhere is off by 0.3 dbar, 0.005 m/s).
    /// </summary>
    /// <param name="temperature">°C, ITS-90, −2 to 40.</param>
    /// <param name="salinity">Practical salinity, 0 to 42.</param>
    /// <param name="depth">Metres below the surface, 0 to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public static double OfSeaWater(double temperature, double salinity, double depth)
    {
        (double sa, double ct, double p) = Standard(temperature, salinity, depth);
        return Teos10.SoundSpeed(sa, ct, p);
    }

    /// <summary>Density of sea water, kg/m³, by TEOS-10, from what a survey is told.</summary>
    /// <param name="temperature">°C, ITS-90, −2 to 40.</param>
    /// <param name="salinity">Practical salinity, 0 to 42.</param>
    /// <param name="depth">Metres below the surface, 0 to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public static double DensityOfSeaWater(double temperature, double salinity, double depth)
    {
        (double sa, double ct, double p) = Standard(temperature, salinity, depth);
        return Teos10.Density(sa, ct, p);
    }

    /// <summary>Mackenzie (1981), JASA 70, 807–812, nine terms. Valid −2–30 °C, S 25–40, 0–8000 m; standard error 0.07 m/s.</summary>
    /// <param name="temperature">t, °C.</param>
    /// <param name="salinity">S, practical salinity.</param>
    /// <param name="depth">z, metres.</param>
    public static double Mackenzie(double temperature, double salinity, double depth)
    {
        double t = temperature, S = salinity, z = depth;
        return 1448.96 + t * (4.591 + t * (-5.304e-2 + 2.374e-4 * t)) + 1.340 * (S - 35) + 1.630e-2 * z
            + 1.675e-7 * z * z - 1.025e-2 * t * (S - 35) - 7.139e-13 * t * z * z * z;
    }

    /// <summary>Del Grosso (1974), JASA 56, 1084–1091, in the ITS-90 form of Wong and Zhu (1995), JASA 97, 1732–1736. Valid 0–30 °C, S 30–40, 0–9800 dbar; standard error 0.05 m/s.</summary>
    /// <param name="temperature">t, °C, ITS-90.</param>
    /// <param name="salinity">S, practical salinity.</param>
    /// <param name="pressure">dbar above the atmosphere's; the formula's P is in kg/cm².</param>
    public static double DelGrosso(double temperature, double salinity, double pressure)
    {
        double t = temperature, S = salinity, P = pressure / 9.80665;
        double dT = t * (5.012285 + t * (-5.51184e-2 + 2.21649e-4 * t));
        double dS = S * (1.329530 + 1.288598e-4 * S);
        double dP = P * (0.1560592 + P * (2.449993e-5 - 8.833959e-9 * P));
        double dSTP = -1.275936e-2 * t * S + 6.353509e-3 * t * P + 2.656174e-8 * t * t * P * P - 1.593895e-6 * t * P * P
            + 5.222483e-10 * t * P * P * P - 4.383615e-7 * t * t * t * P - 1.616745e-9 * S * S * P * P
            + 9.688441e-5 * t * t * S + 4.857614e-6 * t * S * S * P - 3.406824e-4 * t * S * P;
        return 1402.392 + dT + dS + dP + dSTP;
    }

    /// <summary>Pressure at a depth, dbar above the atmosphere's.</summary>
    /// <remarks>Saunders (1981), J. Phys. Oceanogr. 11, 573–574 (from memory; within 0.1 % of TEOS-10's hydrostatic depth in the first kilometre).</remarks>
    /// <param name="depth">Metres.</param>
    /// <param name="latitude">Degrees.</param>
    public static double PressureAt(double depth, double latitude = 45)
    {
        double sine = Math.Sin(latitude * Math.PI / 180), c1 = 5.92e-3 + 5.25e-3 * sine * sine;
        return ((1 - c1) - Math.Sqrt((1 - c1) * (1 - c1) - 8.84e-6 * depth)) / 4.42e-6;
    }

    private static (double Salinity, double Temperature, double Pressure) Standard(double temperature, double salinity, double depth)
    {
        if (!(temperature is >= -2 and <= 40))
            throw new ArgumentOutOfRangeException(nameof(temperature), temperature, "sea water is −2 to 40 °C");
        if (!(salinity is >= 0 and <= 42))
            throw new ArgumentOutOfRangeException(nameof(salinity), salinity, "practical salinity is 0 to 42");
        if (!(depth is >= 0 and <= 10_000))
            throw new ArgumentOutOfRangeException(nameof(depth), depth, "a depth is 0 to 10 000 m");
        double p = PressureAt(depth), sa = Teos10.ReferenceSalinity(salinity);
        return (sa, Teos10.ConservativeTemperature(sa, temperature, p), p);
    }
}
