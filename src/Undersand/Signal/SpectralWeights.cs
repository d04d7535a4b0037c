namespace Undersand.Signal;

/// <summary>The values of the spectral weights.</summary>
public static class SpectralWeights
{
    /// <summary>The weight at a place in the band.</summary>
    /// <param name="weight">Which.</param>
    /// <param name="x">−0.5 at the lower edge, 0.5 at the upper; 0 outside.</param>
    public static double At(SpectralWeight weight, double x)
    {
        if (Math.Abs(x) > 0.5)
            return 0;
        return weight switch
        {
            SpectralWeight.Rectangular => 1,
            SpectralWeight.Hann => 0.5 + 0.5 * Math.Cos(2 * Math.PI * x),
            SpectralWeight.Hamming => 0.54 + 0.46 * Math.Cos(2 * Math.PI * x),
            SpectralWeight.Taylor => Taylor(x, 4, 35),
            _ => throw new ArgumentOutOfRangeException(nameof(weight), weight, "unknown spectral weight"),
        };
    }

    /// <summary>Taylor's weight, after T. T. Taylor (1955), IRE Trans. Antennas Propag. 3, 16–28; as in Carrara, Goodman and Majewski (1995), appendix D.</summary>
    /// <param name="x">−0.5 to 0.5.</param>
    /// <param name="nbar">Number of nearly equal sidelobes, the main lobe counted.</param>
    /// <param name="sidelobeDb">Their level below the main lobe, dB, positive.</param>
    public static double Taylor(double x, int nbar, double sidelobeDb)
    {
        double a = Math.Acosh(Math.Pow(10, sidelobeDb / 20)) / Math.PI;
        double sigma2 = nbar * nbar / (a * a + (nbar - 0.5) * (nbar - 0.5));
        double w = 1;
        for (int m = 1; m < nbar; m++)
        {
            double numerator = (m & 1) == 1 ? 1 : -1, denominator = 2;
            for (int n = 1; n < nbar; n++)
            {
                numerator *= 1 - m * m / sigma2 / (a * a + (n - 0.5) * (n - 0.5));
                if (n != m)
                    denominator *= 1 - (double)(m * m) / (n * n);
            }
            w += 2 * (numerator / denominator) * Math.Cos(2 * Math.PI * m * x);
        }
        return w;
    }
}
