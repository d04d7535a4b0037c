namespace Undersand.Detection;

/// <summary>Naive Bayes on the echo's sign and, where calibrated or compared with the seabed, on its strength.</summary>
/// <remarks>
/// Priors and likelihoods are broad and stated: our judgement, no source. Iron, stone and pottery are harder than sand (positive echo), gas and much
/// waterlogged timber softer (negative). A sign alone never says more than "hard" or "soft". See docs/science/targets.md.
/// </remarks>
internal static class MaterialGuess
{
    // Simulated iron spheres of 10–15 cm came out with the wrong sign about as often as not.
    private const double TrustUnresolved = 0.15;
    private const double TrustRinging = 30;

    // Prior, probability of a positive echo, mean and standard deviation of |ratio to the seabed's reflection| in dB.
    private static readonly (Material Material, double Prior, double Positive, double MeanDb, double SdDb)[] Classes =
    [
        (Material.Iron, 0.20, 0.85, 5, 8),
        (Material.Stone, 0.30, 0.85, 2, 8),
        (Material.Ceramic, 0.15, 0.80, 0, 8),
        (Material.Timber, 0.15, 0.35, -4, 8),
        (Material.Gas, 0.05, 0.08, 6, 8),
        (Material.Other, 0.15, 0.50, 0, 12),
    ];

    /// <param name="phase">Phase of the echo at the top relative to a hard reflector, radians; null if not clear.</param>
    /// <param name="relativeDb">|amplitude| over the seabed's own, dB; null if not known.</param>
    /// <param name="phaseSd">Its uncertainty, radians.</param>
    /// <param name="isResolved">Whether the body is larger than the blur. In a smaller one the echoes of top, bottom and what rings between overlap within the pulse and turn the sign about: it then says little.</param>
    /// <param name="ringing">How much better spheres of a class explain the whole echo than one that doesn't ring; may be null. Its square root counts, within a factor of thirty, for bodies aren't spheres.</param>
    public static Dictionary<Material, double> Probabilities(double? phase, double? relativeDb, double phaseSd, bool isResolved, IReadOnlyDictionary<Material, double>? ringing = null)
    {
        double trust = isResolved ? 1 : TrustUnresolved;
        double positive = phase is { } p ? 0.5 + trust * (PositiveWeight(p, phaseSd) - 0.5) : 0.5, sum = 0;
        var result = new Dictionary<Material, double>();
        foreach (var c in Classes)
        {
            double likelihood = c.Positive * positive + (1 - c.Positive) * (1 - positive);
            if (relativeDb is { } db)
                likelihood *= Math.Exp(-0.5 * Math.Pow((db - c.MeanDb) / c.SdDb, 2)) / c.SdDb;
            if (ringing is not null && ringing.TryGetValue(c.Material, out double better))
                likelihood *= Math.Clamp(Math.Sqrt(better), 1 / TrustRinging, TrustRinging);
            result[c.Material] = c.Prior * Math.Max(likelihood, 1e-6);
            sum += result[c.Material];
        }
        foreach (var c in Classes)
            result[c.Material] /= sum;
        return result;
    }

    // How much likelier the phase is for a positive echo than for a negative one, both blurred by sd (von Mises).
    private static double PositiveWeight(double phase, double sd)
    {
        double kappa = 1 / Math.Max(sd * sd, 0.05), up = Math.Exp(kappa * (Math.Cos(phase) - 1)), down = Math.Exp(kappa * (-Math.Cos(phase) - 1));
        // A twentieth for neither: resonance and interference turn phases.
        return (up + 0.05) / (up + down + 0.1);
    }
}
