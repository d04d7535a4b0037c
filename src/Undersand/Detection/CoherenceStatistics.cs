namespace Undersand.Detection;

/// <summary>How the coherence of traces is distributed, with and without an object.</summary>
/// <remarks>
/// CF = |Σx|² / (N Σ|x|²) of N traces. For independent circular complex Gaussian traces of equal power the direction of the vector of traces is uniform
/// on the complex sphere, so CF ~ Beta(1, N−1); with a common signal of power ratio q per trace, (N−1)·CF/(1−CF) is noncentral F(2, 2(N−1), 2Nq).
/// Derivation and limits in docs/science/evidence.md.
/// </remarks>
public static class CoherenceStatistics
{
    /// <summary>Probability that CF exceeds <paramref name="cf"/> with no object: (1 − cf)^(N−1).</summary>
    /// <param name="cf">0 to 1.</param>
    /// <param name="traces">N, at least 2.</param>
    public static double Exceedance(double cf, int traces) => Math.Exp((traces - 1) * Math.Log(1 - cf));

    /// <summary>The CF that is exceeded with the given probability when there is no object.</summary>
    public static double Threshold(double falseAlarm, int traces) => -SpecialFunctions.Expm1(Math.Log(falseAlarm) / (traces - 1));

    /// <summary>Semblance: numerator and denominator of CF averaged over M independent samples; exceedance with no object, Beta(M, M(N−1)), or with halved parameters for real samples.</summary>
    public static double SemblanceExceedance(double semblance, int traces, int samples, bool complex = true)
    {
        double scale = complex ? 1 : 0.5;
        return 1 - SpecialFunctions.RegularizedBeta(scale * samples, scale * samples * (traces - 1), semblance);
    }

    /// <summary>The semblance that is exceeded with the given probability when there is no object.</summary>
    public static double SemblanceThreshold(double falseAlarm, int traces, int samples, bool complex = true)
    {
        double low = 0, high = 1;
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            if (SemblanceExceedance(middle, traces, samples, complex) > falseAlarm)
                low = middle;
            else
                high = middle;
        }
        return 0.5 * (low + high);
    }

    /// <summary>Probability that CF exceeds <paramref name="cf"/> when each trace holds a common signal of power ratio <paramref name="snr"/>.</summary>
    /// <remarks>The noncentral F as a Poisson mixture: CF is Beta(1+j, N−1) with j ~ Poisson(N·snr).</remarks>
    public static double DetectionProbability(double cf, int traces, double snr)
    {
        double mean = traces * snr, sum = 0;
        int last = (int)(mean + 12 * Math.Sqrt(mean + 1) + 20);
        double logWeight = -mean;
        for (int j = 0; j <= last; j++)
        {
            if (j > 0)
                logWeight += Math.Log(mean) - Math.Log(j);
            sum += Math.Exp(logWeight) * (1 - SpecialFunctions.RegularizedBeta(1 + j, traces - 1, cf));
        }
        return sum;
    }

    /// <summary>Probability that the amplitude of K-distributed clutter of unit mean square exceeds <paramref name="amplitude"/>: 2/Γ(ν)·(a√ν)^ν·K_ν(2a√ν).</summary>
    /// <param name="amplitude">a.</param>
    /// <param name="shape">ν; small is spiky.</param>
    public static double KAmplitudeExceedance(double amplitude, double shape)
    {
        if (amplitude <= 0)
            return 1;
        double y = amplitude * Math.Sqrt(shape);
        return 2 * Math.Exp(shape * Math.Log(y) - SpecialFunctions.LogGamma(shape)) * SpecialFunctions.BesselK(shape, 2 * y);
    }

    /// <summary>Probability that the squared mean of the amplitudes of <paramref name="lines"/> independent looks at Gaussian speckle, each of mean square one, exceeds <paramref name="ratio"/>.</summary>
    public static double MeanAmplitudeExceedance(double ratio, int lines) => lines == 1 ? Math.Exp(-ratio) : MeanAmplitude.Of(lines).Exceedance(ratio);

    /// <summary>Natural logarithm of the density of that square, per dB of the ratio; minus infinity far out.</summary>
    public static double LogMeanAmplitudeDensityPerDb(double ratio, int lines) =>
        Math.Log(lines == 1 ? 2 * Math.Sqrt(ratio) : MeanAmplitude.Of(lines).Density(ratio)) - (lines == 1 ? ratio : 0) + Math.Log(Math.Sqrt(ratio) * Math.Log(10) / 20);
}
