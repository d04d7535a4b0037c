namespace Undersand.Simulation;

/// <summary>Random roughness as a sum of plane waves with random directions and phases, wavenumbers spread evenly on a logarithmic scale.</summary>
internal static class RoughSurface
{
    private const int Waves = 192;

    public static void Add(SeabedRoughness roughness, double[] depths, int countX, double spacing, int seed)
    {
        RandomStream random = new(seed, 101);
        double lowest = Math.Log(2 * Math.PI / roughness.LongestWavelength), highest = Math.Log(2 * Math.PI / roughness.ShortestWavelength);
        var waves = new (double Ke, double Kn, double Amplitude, double Phase)[Waves];
        double power = 0;
        for (int i = 0; i < Waves; i++)
        {
            double K = Math.Exp(random.Uniform(lowest, highest)), azimuth = random.Uniform(0, 2 * Math.PI);
            // ∫ K^−γ K dK on a logarithmic scale: each wave carries K^(2−γ).
            double weight = Math.Pow(K, 2 - roughness.Exponent);
            power += 0.5 * weight;
            waves[i] = (K * Math.Sin(azimuth), K * Math.Cos(azimuth), Math.Sqrt(weight), random.Uniform(0, 2 * Math.PI));
        }
        double scale = roughness.StandardDeviation / Math.Sqrt(power);
        for (int y = 0; y * countX < depths.Length; y++)
            foreach ((double ke, double kn, double amplitude, double phase) in waves)
                AddRow(depths.AsSpan(y * countX, countX), scale * amplitude, phase + kn * y * spacing, ke * spacing);
    }

    /// <summary>Adds amplitude·cos(phase + x·step), turning a phasor from column to column.</summary>
    private static void AddRow(Span<double> row, double amplitude, double phase, double step)
    {
        (double s, double c) = Math.SinCos(phase);
        (double turnS, double turnC) = Math.SinCos(step);
        for (int x = 0; x < row.Length; x++)
        {
            row[x] += amplitude * c;
            (c, s) = (c * turnC - s * turnS, s * turnC + c * turnS);
        }
    }
}
