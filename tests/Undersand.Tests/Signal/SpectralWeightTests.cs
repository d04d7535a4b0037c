using Undersand.Signal;
using Undersand.Tests.Acoustics;

namespace Undersand.Tests.Signal;

/// <summary>Held against checks WA-12 to WA-17 (computed with scipy) in tests/data/checks/compressed_pulse_widths.csv; tolerances as stated there.</summary>
public sealed class SpectralWeightTests
{
    private const double Rows = 4001;

    public static TheoryData<string> Weights => ["rectangular", "Hann", "Hamming 0.54", "Taylor nbar4 -30", "Taylor nbar4 -35", "Taylor nbar5 -35"];

    [Theory, MemberData(nameof(Weights))]
    public void Widths_sidelobes_and_losses_are_the_published_ones(string name)
    {
        var row = CheckTable.Read("checks/compressed_pulse_widths.csv").Rows.Single(r => r.Text("spectral_weight") == name);
        Func<double, double> weight = name switch
        {
            "rectangular" => x => SpectralWeights.At(SpectralWeight.Rectangular, x),
            "Hann" => x => SpectralWeights.At(SpectralWeight.Hann, x),
            "Hamming 0.54" => x => SpectralWeights.At(SpectralWeight.Hamming, x),
            "Taylor nbar4 -30" => x => SpectralWeights.Taylor(x, 4, 30),
            "Taylor nbar4 -35" => x => SpectralWeights.Taylor(x, 4, 35),
            _ => x => SpectralWeights.Taylor(x, 5, 35),
        };
        Assert.Equal(row.Number("width_3dB_times_B"), 2 * Crossing(weight, Math.Sqrt(0.5)), 0.002);
        Assert.Equal(row.Number("width_6dB_times_B"), 2 * Crossing(weight, 0.5), 0.002);
        var (firstNull, sidelobe) = NullAndSidelobe(weight);
        Assert.Equal(row.Number("first_null_times_B"), firstNull, 0.002);
        Assert.Equal(row.Number("peak_sidelobe_dB"), sidelobe, 0.05);
        Assert.Equal(row.Number("snr_loss_dB"), Loss(weight), 0.005);
    }

    [Fact]
    public void The_weight_named_Taylor_is_that_of_four_sidelobes_at_35_dB()
    {
        for (double x = -0.5; x <= 0.5; x += 0.05)
            Assert.Equal(SpectralWeights.Taylor(x, 4, 35), SpectralWeights.At(SpectralWeight.Taylor, x), 1e-12);
    }

    [Fact]
    public void Outside_of_the_band_there_is_nothing() => Assert.Equal(0, SpectralWeights.At(SpectralWeight.Hamming, 0.5001));

    /// <summary>The pulse of a weight at time t in units of 1/B, relative to its peak: real, since the weights are even.</summary>
    private static double Pulse(Func<double, double> weight, double t)
    {
        double sum = 0, norm = 0;
        for (int i = 0; i < Rows; i++)
        {
            double x = (i + 0.5) / Rows - 0.5, w = weight(x);
            sum += w * Math.Cos(2 * Math.PI * x * t);
            norm += w;
        }
        return sum / norm;
    }

    private static double Crossing(Func<double, double> weight, double level)
    {
        double low = 0, high = 1.2;
        while (high - low > 1e-6)
            (low, high) = Pulse(weight, 0.5 * (low + high)) > level ? (0.5 * (low + high), high) : (low, 0.5 * (low + high));
        return low;
    }

    private static (double FirstNull, double SidelobeDb) NullAndSidelobe(Func<double, double> weight)
    {
        const double step = 0.005;
        double firstNull = 0, sidelobe = 0;
        for (double t = step; t < 8; t += step)
        {
            double now = Pulse(weight, t);
            if (firstNull == 0 && now <= 0)
                firstNull = t - step + step * Pulse(weight, t - step) / (Pulse(weight, t - step) - now);
            if (firstNull > 0)
                sidelobe = Math.Max(sidelobe, Math.Abs(now));
        }
        return (firstNull, 20 * Math.Log10(sidelobe));
    }

    private static double Loss(Func<double, double> weight)
    {
        double sum = 0, square = 0;
        for (int i = 0; i < Rows; i++)
        {
            double w = weight((i + 0.5) / Rows - 0.5);
            (sum, square) = (sum + w, square + w * w);
        }
        return 10 * Math.Log10(sum * sum / (Rows * square));
    }
}
