using Undersand.Imaging.Conditioning;
using static Undersand.Tests.Imaging.SyntheticLine;

namespace Undersand.Tests.Imaging.Conditioning;

public sealed class SeabedScanTests
{
    private const int Pings = 80;

    [Theory]
    [InlineData(0.5, 4)]
    [InlineData(0.9, 1)]
    [InlineData(2.0, 4)]
    [InlineData(4.0, 1)]
    public void The_seabed_is_found_to_2_mm_at_every_height(double height, int receivers)
    {
        double Height(int p) => height + 0.03 * Math.Sin(0.3 * p);
        var scan = Scan(Make(Pings, Height, receivers));
        AllNear(scan, Height, 0.002);
    }

    [Fact]
    public void A_narrow_band_close_to_the_seabed_is_no_hindrance()
    {
        // 5 kHz of band half a metre up: the direct arrival's pulse reaches into the seabed's.
        var waveform = new Waveform(3000, 8000, 0.004, 0.1);
        var line = Make(Pings, _ => 0.5, 4, waveform: waveform);
        var scan = LineScenes.Scan(SandSurvey with { Waveform = waveform }, line);
        AllNear(scan, _ => 0.5, 0.02);
    }

    [Fact]
    public void Lost_pings_are_bridged_and_left_out()
    {
        int[] lost = [10, 11, 12, 40, 61];
        var scan = Scan(Make(Pings, Height, seabed: p => lost.Contains(p) ? 0 : 0.35, direct: 0.3));
        AllNear(scan, Height, 0.015);
        Assert.All(lost, p => Assert.False(scan.IsUsable(p)));
        Assert.Equal(Pings - lost.Length, scan.Quality().PingsUsed);
        static double Height(int p) => 0.9 + 0.03 * Math.Sin(0.15 * p);
    }

    [Fact]
    public void A_gap_of_forty_pings_loses_neither_half_of_the_line()
    {
        var scan = Scan(Make(140, _ => 0.9, 1, seabed: p => p is >= 50 and < 90 ? 0 : 0.35));
        Assert.All(Enumerable.Range(0, 50).Concat(Enumerable.Range(90, 50)), p => Assert.True(scan.IsUsable(p)));
        // Of forty pings of noise, heard by one receiver, a few look like an echo.
        Assert.InRange(Enumerable.Range(50, 40).Count(scan.IsUsable), 0, 8);
    }

    [Fact]
    public void A_fish_over_three_pings_does_not_pull_the_seabed_away()
    {
        // It hides the seabed altogether.
        var scan = Scan(Make(Pings, _ => 0.9, seabed: p => p is >= 30 and < 33 ? 0 : 0.35, more: p => p is >= 30 and < 33 ? [new(2 * 0.6, 0.3)] : []));
        AllNear(scan, _ => 0.9, 0.015);
    }

    [Fact]
    public void A_school_above_the_seabed_does_not_pull_it_up()
    {
        var scan = Scan(Make(Pings, _ => 1.5, more: p => p is >= 20 and < 45 ? [new(2 * 0.8, 0.2)] : []));
        AllNear(scan, _ => 1.5, 0.005);
    }

    [Fact]
    public void The_multiple_does_not_pull_the_seabed_down()
    {
        var scan = Scan(Make(Pings, Height, more: p => [new(4 * Height(p), 0.3)]));
        AllNear(scan, Height, 0.003);
        static double Height(int p) => 0.9 + 0.05 * Math.Sin(0.2 * p);
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.7)]
    public void A_hard_layer_under_a_soft_seabed_is_not_the_seabed(double below)
    {
        // 16 dB stronger than the mud above it.
        var scan = Scan(Make(Pings, Height, seabed: _ => 0.06, more: p => [new(2 * (Height(p) + below), 0.38)]));
        AllNear(scan, Height, 0.005);
        static double Height(int p) => 1.2 + 0.04 * Math.Sin(0.2 * p);
    }

    [Fact]
    public void A_beam_of_the_vehicle_is_not_the_seabed()
    {
        // A frame 0.7 m away answers in every ping; the seabed moves, the frame does not.
        var scan = Scan(Make(Pings, Height, more: _ => [new(1.4, 0.05)]));
        AllNear(scan, Height, 0.003);
        static double Height(int p) => 1.3 + 0.05 * Math.Sin(0.2 * p);
    }

    [Fact]
    public void The_sea_surface_is_not_the_seabed()
    {
        // The vehicle 5 m under the surface, 6 m over mud.
        var scan = Scan(Make(Pings, Height, 1, more: _ => [new(2 * VehicleDepth, -0.9)], seabed: _ => 0.15));
        AllNear(scan, Height, 0.01);
        static double Height(int p) => 6 + 0.2 * Math.Sin(0.1 * p);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.176)]
    public void Picks_at_both_ends_of_a_wide_array_fit_their_trace_on_a_slope(double slope)
    {
        var line = Make(40, _ => 0.9, 12, 2.2, slopeNorth: slope);
        var scan = Scan(line);
        for (int p = 5; p < 35; p++)
            for (int r = 0; r < 12; r++)
            {
                var ping = line.PingAt(p);
                double e = ping.Receivers[r].Position.Easting - ping.Source.Easting, n = ping.Receivers[r].Position.Northing - ping.Source.Northing, cos2 = 1 / (1 + slope * slope);
                double north = n + 2 * 0.9 * slope * cos2, down = 2 * 0.9 * cos2, exact = Math.Sqrt(e * e + north * north + down * down) / SoundSpeed;
                Assert.Equal(exact, scan.SeabedTimes[p * 12 + r], 3e-6);
            }
    }

    [Fact]
    public void Without_an_echo_that_continues_there_is_no_seabed()
    {
        var fault = Assert.Throws<SurveyException>(() => Scan(Make(40, _ => 0.9, seabed: _ => 0)));
        Assert.Contains("no seabed was found", fault.Message);
    }

    [Fact]
    public void Noise_is_measured_where_no_chirp_is_cut_off()
    {
        var scan = Scan(Make(60, _ => 0.9, 2, noise: 0.01));
        Assert.Equal(1, scan.Noise / (0.01 * scan.Reader.Compressor.NoiseGain), 0.12);
    }

    private static LineScan Scan(MemoryLine line) => LineScenes.Scan(SandSurvey, line);

    [Fact]
    public void Where_a_person_laid_the_seabed_the_echo_near_it_decides()
    {
        static double Height(int p) => 1.2 + 0.03 * Math.Sin(0.2 * p);
        var line = Make(Pings, Height, more: p => [new(2 * 0.7, 0.3)]);
        Assert.True(Scan(line).SeabedDepth[50] - VehicleDepth < 0.8, "what lies above the seabed must mislead the tracking, or this shows nothing");
        var scan = ByHand(line, new SeabedStretch(line.Name, 1, VehicleDepth + 1.26, Pings, VehicleDepth + 1.18, "Ada", default));
        AllNear(scan, Height, 0.003);
    }

    [Fact]
    public void Where_there_is_no_echo_the_seabed_lies_as_it_was_laid_and_nowhere_else()
    {
        // Something far below keeps the pings alive that have no seabed.
        var line = Make(Pings, _ => 0.9, direct: 0, seabed: p => p is >= 30 and <= 40 ? 0 : 0.35, more: p => p is >= 30 and <= 40 ? [new(2 * 3.0, 0.35)] : []);
        var scan = ByHand(line, new SeabedStretch(line.Name, 31, VehicleDepth + 2.0, 40, VehicleDepth + 2.0, "Ada", default), new SeabedStretch(line.Name, 31, VehicleDepth + 1.4, 41, VehicleDepth + 1.5, "Ben", default),
            new SeabedStretch("another.sgy", 1, 1, Pings, 1, "Ben", default));
        // Noise may be timed where there is nothing else, but no farther off than a trace's echo is looked for, 0.12 m.
        for (int p = 0; p < Pings; p++)
            Assert.Equal(p is >= 30 and <= 40 ? 1.4 + 0.01 * (p - 30) : 0.9, scan.SeabedDepth[p] - VehicleDepth, p is >= 30 and <= 40 ? 0.12 : 0.003);
    }

    private static LineScan ByHand(MemoryLine line, params SeabedStretch[] stretches) =>
        new LineScanner(SandSurvey, new(), LineScenes.TwoThreads).Scan(line, byHand: stretches);

    private static void AllNear(LineScan scan, Func<int, double> height, double tolerance)
    {
        for (int p = 0; p < scan.SeabedDepth.Length; p++)
            Assert.True(Math.Abs(scan.SeabedDepth[p] - VehicleDepth - height(p)) < tolerance, $"ping {p}: {scan.SeabedDepth[p] - VehicleDepth:0.000} instead of {height(p):0.000} m");
    }
}
