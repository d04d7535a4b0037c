using Undersand.Signal;

namespace Undersand.Tests.Signal;

public sealed class ToneFinderTests
{
    private const double Interval = 20e-6;

    [Theory]
    [InlineData(4000, 18000, 0.004, 600)]
    [InlineData(2000, 8000, 0.003, 300)]
    [InlineData(5000, 7000, 0.005, 400)]
    public void Chirps_whose_direct_arrival_and_seabed_overlap_hold_no_tone(double f0, double f1, double duration, int samples)
    {
        var waveform = new Waveform(f0, f1, duration, 0.1);
        foreach (double heave in new[] { 0, 0.02e-3, 0.2e-3 })
            Assert.Empty(ToneFinder.Find(Traces(waveform, samples, heave, 0, 0.01), 15));
    }

    [Theory]
    [InlineData(9137.0, 0.05)]
    [InlineData(1210.5, 0.1)]
    public void A_tone_that_the_eye_sees_in_the_spectrum_is_found(double frequency, double amplitude)
    {
        var waveform = new Waveform(4000, 18000, 0.004, 0.1);
        var tone = Assert.Single(ToneFinder.Find(Traces(waveform, 600, 0.02e-3, frequency, 0.01, 4 * amplitude), 15));
        // To a fiftieth of what 12 ms of trace can tell apart.
        Assert.Equal(frequency, tone.CyclesPerSample / Interval, 0.05 / (600 * Interval));
    }

    [Fact]
    public void Removing_a_tone_leaves_the_rest()
    {
        var waveform = new Waveform(4000, 18000, 0.004, 0.1);
        var clean = Traces(waveform, 600, 0, 0, 0)[3];
        var spoilt = Traces(waveform, 600, 0, 21000, 0, 0.5)[3];
        new Tone(21000 * Interval).RemoveFrom(spoilt);
        Assert.All(clean.Zip(spoilt), v => Assert.Equal(v.First, v.Second, 0.005f));
    }

    [Fact]
    public void One_humming_channel_of_ten_is_no_tone_of_the_line()
    {
        var traces = Traces(new Waveform(4000, 18000, 0.004, 0.1), 600, 0.02e-3, 0, 0.01);
        for (int t = 0; t < traces.Count; t += 10)
            for (int i = 0; i < 600; i++)
                traces[t][i] = (float)(0.001 * Math.Sin(2 * Math.PI * 3000 * i * Interval));
        Assert.Empty(ToneFinder.Find(traces, 15));
    }

    [Fact]
    public void Traces_of_nothing_or_of_no_numbers_are_passed_over()
    {
        Assert.Empty(ToneFinder.Find([new float[600], [.. Enumerable.Repeat(float.NaN, 600)]], 15));
        Assert.Empty(ToneFinder.Find([], 15));
    }

    private static List<float[]> Traces(Waveform waveform, int samples, double heave, double frequency, double noise, double tone = 0)
    {
        var random = new Random(11);
        return [.. Enumerable.Range(0, 40).Select(t =>
        {
            double seabed = 1.2e-3 + heave * Math.Sin(0.7 * t), phase = 6.28 * random.NextDouble();
            return Enumerable.Range(0, samples).Select(i =>
            {
                double at = i * Interval;
                return (float)(Chirp.At(waveform, at - 0.3e-3) + 0.8 * Chirp.At(waveform, at - seabed) + noise * (random.NextDouble() - 0.5) * 3.46 + tone * Math.Sin(2 * Math.PI * frequency * at + phase));
            }).ToArray();
        })];
    }
}
