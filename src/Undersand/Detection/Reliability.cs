namespace Undersand.Detection;

/// <summary>How honest a set of probabilities was, once outcomes are known (Murphy 1973): score = reliability − resolution + uncertainty, where equal probabilities are pooled.</summary>
/// <param name="Score">Mean squared difference of probability and outcome; 0 is perfect.</param>
/// <param name="Calibration">Murphy's reliability: mean squared difference of each stated probability and the frequency met; 0 is perfect.</param>
/// <param name="Resolution">How far those frequencies differ from the overall one; more is better.</param>
/// <param name="Uncertainty">The variance of the outcomes.</param>
public sealed record Reliability(double Score, double Calibration, double Resolution, double Uncertainty)
{
    /// <summary>Brier score and its parts.</summary>
    /// <param name="probabilities">What was said.</param>
    /// <param name="outcomes">What was.</param>
    public static Reliability Of(IReadOnlyList<double> probabilities, IReadOnlyList<bool> outcomes)
    {
        if (probabilities.Count != outcomes.Count || outcomes.Count == 0)
            throw new ArgumentException("there must be as many outcomes as probabilities, and at least one", nameof(outcomes));
        int n = outcomes.Count;
        double overall = outcomes.Count(o => o) / (double)n, score = 0, calibration = 0, resolution = 0;
        foreach (var group in Enumerable.Range(0, n).GroupBy(i => probabilities[i]))
        {
            double frequency = group.Count(i => outcomes[i]) / (double)group.Count();
            calibration += group.Count() * (group.Key - frequency) * (group.Key - frequency);
            resolution += group.Count() * (frequency - overall) * (frequency - overall);
            score += group.Sum(i => (group.Key - (outcomes[i] ? 1 : 0)) * (group.Key - (outcomes[i] ? 1 : 0)));
        }
        return new(score / n, calibration / n, resolution / n, overall * (1 - overall));
    }
}
