using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class CoherenceStatisticsTests
{
    [Theory]
    // checks.md ST-01 to ST-04: scipy.stats.beta(1, N−1).ppf.
    [InlineData(8, 0.348164, 0.482053, 0.627241, 0.861050)]
    [InlineData(16, 0.181036, 0.264358, 0.369043, 0.601893)]
    [InlineData(32, 0.092114, 0.138046, 0.199750, 0.359600)]
    [InlineData(64, 0.046438, 0.070490, 0.103849, 0.196914)]
    public void Thresholds_of_the_coherence_factor_are_those_of_the_beta_distribution(int traces, double q95, double q99, double q999, double q6)
    {
        Assert.Equal(q95, CoherenceStatistics.Threshold(0.05, traces), 1e-6);
        Assert.Equal(q99, CoherenceStatistics.Threshold(0.01, traces), 1e-6);
        Assert.Equal(q999, CoherenceStatistics.Threshold(0.001, traces), 1e-6);
        Assert.Equal(q6, CoherenceStatistics.Threshold(1e-6, traces), 1e-6);
        Assert.Equal(1e-6, CoherenceStatistics.Exceedance(CoherenceStatistics.Threshold(1e-6, traces), traces), 1e-12);
    }

    [Fact]
    public void Semblance_thresholds_are_those_of_the_beta_distribution()
    {
        // checks.md ST-05: beta(M, M(N−1)) and beta(M/2, M(N−1)/2).
        Assert.Equal(0.150763, CoherenceStatistics.SemblanceThreshold(0.01, 16, 4), 1e-6);
        Assert.Equal(0.195669, CoherenceStatistics.SemblanceThreshold(0.01, 16, 4, complex: false), 1e-6);
    }

    [Theory]
    // checks.md ST-06 to ST-08: scipy.stats.ncf.
    [InlineData(16, 0.5, 0.001, 0.490597)]
    [InlineData(8, 1, 0.001, 0.318797)]
    [InlineData(32, 0.25, 1e-6, 0.058629)]
    public void A_common_signal_is_detected_as_often_as_the_noncentral_F_says(int traces, double snr, double falseAlarm, double expected) =>
        Assert.Equal(expected, CoherenceStatistics.DetectionProbability(CoherenceStatistics.Threshold(falseAlarm, traces), traces, snr), 1e-5);

    [Theory]
    // checks.md ST-10: scipy.special.kv; ν = 0.5 is exp(−√2 a).
    [InlineData(0.5, 1, 0.24311673)]
    [InlineData(0.5, 2, 0.05910575)]
    [InlineData(2, 1, 0.30923457)]
    [InlineData(2, 2, 0.03992960)]
    [InlineData(2, 3, 0.00394002)]
    public void The_tail_of_K_amplitudes_is_the_published_one(double shape, double amplitude, double expected) =>
        Assert.Equal(expected, CoherenceStatistics.KAmplitudeExceedance(amplitude, shape), 1e-8);

    [Fact]
    public void Drawn_traces_have_the_coherence_of_the_formula()
    {
        const int traces = 16, draws = 40_000;
        var random = new Random(7);
        double threshold = CoherenceStatistics.Threshold(0.01, traces);
        int above = 0;
        for (int d = 0; d < draws; d++)
        {
            double re = 0, im = 0, power = 0;
            for (int n = 0; n < traces; n++)
            {
                double r = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())), phi = 2 * Math.PI * random.NextDouble();
                re += r * Math.Cos(phi);
                im += r * Math.Sin(phi);
                power += r * r;
            }
            if ((re * re + im * im) / (traces * power) > threshold)
                above++;
        }
        // 400 expected; five standard deviations of the counting.
        Assert.InRange(above, 300, 500);
    }

    [Theory]
    [InlineData(2, 1.5)]
    [InlineData(3, 1.8)]
    [InlineData(6, 1.2)]
    public void The_squared_mean_of_Rayleigh_amplitudes_is_exceeded_as_often_as_in_a_random_trial(int lines, double ratio)
    {
        var random = new Random(5);
        const int trials = 400_000;
        int above = 0;
        for (int i = 0; i < trials; i++)
        {
            double sum = 0;
            for (int l = 0; l < lines; l++)
                sum += Math.Sqrt(-Math.Log(1 - random.NextDouble()));
            above += sum * sum > ratio * lines * lines ? 1 : 0;
        }
        double p = CoherenceStatistics.MeanAmplitudeExceedance(ratio, lines);
        Assert.Equal(p, above / (double)trials, 4 * Math.Sqrt(p / trials));
    }

    [Fact]
    public void The_mean_of_one_line_is_exponential_and_density_is_the_slope_of_exceedance()
    {
        Assert.Equal(Math.Exp(-3), CoherenceStatistics.MeanAmplitudeExceedance(3, 1), 1e-12);
        foreach (int lines in new[] { 1, 2, 5 })
        {
            double up = CoherenceStatistics.MeanAmplitudeExceedance(Math.Pow(10, 0.5001), lines), down = CoherenceStatistics.MeanAmplitudeExceedance(Math.Pow(10, 0.4999), lines);
            Assert.Equal((down - up) / 0.002, Math.Exp(CoherenceStatistics.LogMeanAmplitudeDensityPerDb(Math.Pow(10, 0.5), lines)), 1e-6);
        }
    }
}
