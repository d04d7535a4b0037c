namespace Undersand.Acoustics;

/// <summary>Sea water by the present standard, TEOS-10: IOC, SCOR and IAPSO (2010), UNESCO Manuals and Guides 56.</summary>
/// <remarks>
/// Salinity is turned into reference salinity: the local excess of absolute over reference salinity (at most some 0.03 g/kg at
/// sea and 0.09 in the Baltic, from memory; worth 0.1 m/s) is not applied. Valid 0–42 g/kg, −6–40 °C, 0–10 000 dbar.
/// </remarks>
public static class Teos10
{
    /// <summary>S_SO = 35.165 04 g/kg for practical salinity 35.</summary>
    private const double SaltPerSalinity = 35.16504 / 35;

    /// <summary>1/(40 u_PS), kg/g: makes x² of order 1.</summary>
    private const double SaltScale = 0.0248826675584615;

    /// <summary>24 g/kg in units of the scale, which keeps the root of the 75-term polynomial regular at S = 0.</summary>
    private const double SaltOffset = 0.5971840214030754;

    /// <summary>c_p⁰ in J/(kg K), which defines Conservative Temperature.</summary>
    private const double HeatCapacity = 3991.86795711963;

    /// <summary>Reference salinity S_R, g/kg.</summary>
    /// <param name="salinity">S, practical salinity.</param>
    public static double ReferenceSalinity(double salinity) => salinity * SaltPerSalinity;

    /// <summary>Conservative Temperature Θ, °C.</summary>
    /// <param name="absoluteSalinity">S_A, g/kg.</param>
    /// <param name="temperature">t, °C, ITS-90, in place.</param>
    /// <param name="pressure">p, dbar above the atmosphere's.</param>
    public static double ConservativeTemperature(double absoluteSalinity, double temperature, double pressure)
    {
        double y = PotentialTemperature(absoluteSalinity, temperature, pressure) * 0.025;
        return Sum(Teos10Terms.EnthalpyTerms, Math.Sqrt(SaltScale * absoluteSalinity), y, 0) / HeatCapacity;
    }

    /// <summary>Potential temperature θ at the surface, °C: the temperature at p = 0 that has the same entropy, by Newton's method.</summary>
    /// <param name="absoluteSalinity">S_A, g/kg.</param>
    /// <param name="temperature">t, °C, ITS-90, in place.</param>
    /// <param name="pressure">p, dbar above the atmosphere's.</param>
    public static double PotentialTemperature(double absoluteSalinity, double temperature, double pressure)
    {
        double x = Math.Sqrt(SaltScale * absoluteSalinity), y = temperature * 0.025;
        double wanted = Sum(Teos10Terms.GibbsSlopeTerms, x, y, pressure * 1e-4);
        // Newton's steps settle to the last bit in three or four: the curvature over the 0.01 °C in question is slight.
        for (int step = 0; step < 5; step++)
            y -= (Sum(Teos10Terms.GibbsSlopeTerms, x, y, 0) - wanted) / SumSlope(Teos10Terms.GibbsSlopeTerms, x, y);
        return y / 0.025;
    }

    /// <summary>Density, kg/m³, by the 75-term polynomial of Roquet et al. (2015), Ocean Modelling 90, 29–43.</summary>
    /// <param name="absoluteSalinity">S_A, g/kg.</param>
    /// <param name="conservativeTemperature">Θ, °C.</param>
    /// <param name="pressure">p, dbar above the atmosphere's.</param>
    public static double Density(double absoluteSalinity, double conservativeTemperature, double pressure) =>
        1 / SpecificVolume(absoluteSalinity, conservativeTemperature, pressure).Value;

    /// <summary>Sound speed, m/s, c = v/√(−∂v/∂P), of the 75-term polynomial; it differs from the exact Gibbs function by up to 0.15 m/s.</summary>
    /// <param name="absoluteSalinity">S_A, g/kg.</param>
    /// <param name="conservativeTemperature">Θ, °C.</param>
    /// <param name="pressure">p, dbar above the atmosphere's.</param>
    public static double SoundSpeed(double absoluteSalinity, double conservativeTemperature, double pressure)
    {
        (double v, double slope) = SpecificVolume(absoluteSalinity, conservativeTemperature, pressure);
        return v / Math.Sqrt(-slope * 1e-8);
    }

    /// <summary>v in m³/kg and its slope in z = P/(10⁸ Pa).</summary>
    private static (double Value, double Slope) SpecificVolume(double sa, double ct, double p)
    {
        double s = Math.Sqrt(SaltScale * sa + SaltOffset), tau = ct * 0.025, z = p * 1e-4;
        double value = 0, slope = 0;
        for (int i = Teos10Terms.SpecificVolumeTerms.Length - 1; i >= 0; i--)
        {
            double inS = 0, slopeInS = 0;
            double[][] rows = Teos10Terms.SpecificVolumeTerms[i];
            for (int j = rows.Length - 1; j >= 0; j--)
            {
                (double inZ, double slopeInZ) = Horner(rows[j], z);
                inS = inS * s + inZ;
                slopeInS = slopeInS * s + slopeInZ;
            }
            value = value * tau + inS;
            slope = slope * tau + slopeInS;
        }
        return (value, slope);
    }

    private static double Sum(double[][][] terms, double x, double y, double z)
    {
        double sum = 0;
        for (int i = terms.Length - 1; i >= 0; i--)
        {
            double inY = 0;
            for (int j = terms[i].Length - 1; j >= 0; j--)
                inY = inY * y + Horner(terms[i][j], z).Value;
            sum = sum * x + inY;
        }
        return sum;
    }

    /// <summary>∂/∂y at z = 0.</summary>
    private static double SumSlope(double[][][] terms, double x, double y)
    {
        double sum = 0;
        for (int i = terms.Length - 1; i >= 0; i--)
        {
            double inY = 0;
            for (int j = terms[i].Length - 1; j >= 1; j--)
                inY = inY * y + j * (terms[i][j].Length > 0 ? terms[i][j][0] : 0);
            sum = sum * x + inY;
        }
        return sum;
    }

    private static (double Value, double Slope) Horner(double[] c, double z)
    {
        double value = 0, slope = 0;
        for (int k = c.Length - 1; k >= 0; k--)
        {
            slope = slope * z + value;
            value = value * z + c[k];
        }
        return (value, slope);
    }
}
