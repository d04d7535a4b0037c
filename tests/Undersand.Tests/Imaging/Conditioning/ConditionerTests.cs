using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Simulation;
using Undersand.Tests.Simulation;
using static Undersand.Tests.Imaging.LineScenes;

namespace Undersand.Tests.Imaging.Conditioning;

public sealed class ConditionerTests
{
    [Fact]
    public void The_seabeds_echo_loses_20_dB_though_the_vehicle_heaves()
    {
        var (survey, line) = Simulate(Plan(6.4, heave: 0.02));
        double left = SeabedPower(survey, line, new ConditioningSettings()), whole = SeabedPower(survey, line, new ConditioningSettings { SubtractSeabed = false });
        Assert.True(10 * Math.Log10(left / whole) < -20, $"{10 * Math.Log10(left / whole):0.0} dB");
    }

    [Fact]
    public void A_flat_plate_under_15_cm_of_sand_survives_the_subtraction_within_1_dB()
    {
        var plate = new BuriedSlab("plate", East + 4, North, 0.15, Material.Iron, 0.5, 0.5, 0.02, default, 0.8, 5000);
        double without = PlatePeak(plate, new Paths { Direct = 0.3, Seabed = false }, false), with = PlatePeak(plate, new Paths { Direct = 0.3 }, true);
        Assert.InRange(20 * Math.Log10(with / without), -1, 1);
    }

    [Fact]
    public void What_the_vehicle_reflects_back_to_the_seabed_is_taken_out()
    {
        var plan = Plan(7.2, Row(3, 0.6)) with { Paths = new Paths { Direct = 0.3, Vehicle = 0.8 } };
        var (survey, line) = Simulate(plan);
        double burial = 0.9 * 1650 / 1500, off = MultipleAt(survey, line, burial, false), on = MultipleAt(survey, line, burial, true);
        Assert.True(20 * Math.Log10(on / off) < -12, $"{20 * Math.Log10(on / off):0.0} dB");
    }

    [Fact]
    public void A_real_object_where_the_vehicles_echo_returns_survives()
    {
        const double burial = 0.9 * 1650 / 1500;
        var scene = SmallScenes.Empty() with { Objects = [new BuriedPoint("stone", East + 4, North, burial, Material.Stone, 0.05)] };
        var (survey, clean) = Simulate(Plan(7.2, Row(3, 0.6)), scene);
        var (_, ghosted) = Simulate(Plan(7.2, Row(3, 0.6)) with { Paths = new Paths { Direct = 0.3, Vehicle = 0.8 } }, scene);
        double alone = Peak(Image(survey, Scan(survey, clean), Returns(false)), East + 4, North, burial - 0.1, burial + 0.1).Amplitude;
        double both = Peak(Image(survey, Scan(survey, ghosted), Returns(true)), East + 4, North, burial - 0.1, burial + 0.1).Amplitude;
        Assert.InRange(20 * Math.Log10(both / alone), -1, 1);
    }

    [Fact]
    public void The_sea_surfaces_ghosts_are_taken_out()
    {
        var scene = SmallScenes.Empty() with { Seabed = new SeabedShape(East, North, 2.1) };
        var (survey, line) = Simulate(Plan(7.2, Row(3, 0.6)) with { Paths = new Paths { Direct = 1, Surface = -0.9 } }, scene);
        // The vehicle is 1.2 m under the surface: the direct sound's ghost comes 0.6 m of water after the seabed's echo, the seabed's own 1.2 m.
        const double burial = 1.2 * 1650 / 1500;
        double off = MultipleAt(survey, line, burial, false), on = MultipleAt(survey, line, burial, true);
        Assert.True(20 * Math.Log10(on / off) < -12, $"{20 * Math.Log10(on / off):0.0} dB");
    }

    [Fact]
    public void A_line_of_two_metres_keeps_its_objects()
    {
        var scene = SmallScenes.Empty() with { Objects = [new BuriedSlab("plate", East + 0.8, North, 0.3, Material.Iron, 0.8, 0.5, 0.02, Angle.FromDegrees(90), 0.8, 5000)] };
        double[] peaks = [.. new[] { true, false }.Select(seabed =>
        {
            var (survey, line) = Simulate(Plan(1.6) with { Paths = new Paths { Direct = 0.3 } }, scene);
            var settings = new ImagingSettings { Conditioning = new ConditioningSettings { SubtractSeabed = seabed } };
            return Peak(Image(survey, Scan(survey, line), settings), East + 0.8, North, 0.25, 0.4).Amplitude;
        })];
        Assert.InRange(20 * Math.Log10(peaks[0] / peaks[1]), -1, 1);
    }

    [Fact]
    public void A_ping_that_lacks_a_receiver_is_taken_as_it_is()
    {
        var (survey, line) = Simulate(Plan(5));
        Without(line, 30, 1);
        var scan = Scan(survey, line);
        var blocks = Blocks(survey, scan, new ConditioningSettings());
        Assert.Equal(line.Pings.Sum(p => p.Receivers.Count), blocks.Sum(b => b.Traces.Length));
        // Its third trace is the fourth receiver's: the seabed's echo goes all the same.
        Assert.True(Left(blocks, scan, (30, 2)) < 2 * Left(blocks, scan, (29, 3)), $"{Left(blocks, scan, (30, 2))} against {Left(blocks, scan, (29, 3))}");
    }

    [Fact]
    public void A_single_receiver_is_conditioned_like_many()
    {
        var (survey, line) = Simulate(Plan(6.4, Row(1, 0)));
        double left = SeabedPower(survey, line, new ConditioningSettings()), whole = SeabedPower(survey, line, new ConditioningSettings { SubtractSeabed = false });
        Assert.True(10 * Math.Log10(left / whole) < -20, $"{10 * Math.Log10(left / whole):0.0} dB");
    }

    [Fact]
    public void Blocks_are_the_same_bits_for_one_and_two_threads()
    {
        var (survey, line) = Simulate(Plan(4));
        var one = new Conditioner(Scan(survey, line), survey, new ConditioningSettings(), 2e-3, new EchoCache(1 << 30), OneThread).Block(0);
        var two = new Conditioner(Scan(survey, line), survey, new ConditioningSettings(), 2e-3, new EchoCache(1), TwoThreads).Block(0);
        Assert.Equal(one.Samples, two.Samples);
    }

    private static ImagingSettings Returns(bool subtract) => new() { Conditioning = new ConditioningSettings { SubtractReturns = subtract } };

    private static double PlatePeak(BuriedSlab plate, Paths paths, bool subtract)
    {
        var scene = SmallScenes.Empty() with { Objects = [plate] };
        var (survey, whole) = Simulate(Plan(7.2, Row(3, 0.6)), scene);
        var (_, line) = Simulate(Plan(7.2, Row(3, 0.6)) with { Paths = paths }, scene);
        // The seabed is found where it is heard, and used where it is not.
        var scan = Scan(survey, whole);
        var settings = new ImagingSettings { Conditioning = new ConditioningSettings { SubtractSeabed = subtract } };
        return Peak(Image(survey, subtract ? scan : LineScanOf(survey, scan, line), settings), plate.Easting, plate.Northing, 0.1, 0.25).Amplitude;
    }

    /// <summary>The findings of one scan over the samples of another line.</summary>
    private static LineScan LineScanOf(Survey survey, LineScan found, MemoryLine line)
    {
        var scan = new LineScan(new LineReader(line, survey, found.Reader.Compressor, [])) { Noise = found.Noise };
        found.SeabedTimes.CopyTo(scan.SeabedTimes, 0);
        found.SeabedDepth.CopyTo(scan.SeabedDepth, 0);
        found.SeabedSnr.CopyTo(scan.SeabedSnr, 0);
        found.SeabedAmplitude.CopyTo(scan.SeabedAmplitude, 0);
        found.Along.CopyTo(scan.Along, 0);
        return scan;
    }

    private static double MultipleAt(Survey survey, MemoryLine line, double burial, bool subtract) =>
        Peak(Image(survey, Scan(survey, line), Returns(subtract)), East + 4, North, burial - 0.12, burial + 0.12).Amplitude;

    private static double SeabedPower(Survey survey, MemoryLine line, ConditioningSettings settings)
    {
        var scan = Scan(survey, line);
        var blocks = Blocks(survey, scan, settings);
        return blocks.Average(b => Enumerable.Range(0, b.Traces.Length).Average(i => PowerAt(b, i, scan)));
    }

    private static List<ConditionedBlock> Blocks(Survey survey, LineScan scan, ConditioningSettings settings)
    {
        var conditioner = new Conditioner(scan, survey, settings, 2e-3, new EchoCache(1 << 30), TwoThreads);
        return [.. Enumerable.Range(0, conditioner.BlockCount).Select(conditioner.Block)];
    }

    private static double Left(List<ConditionedBlock> blocks, LineScan scan, (int, int) trace)
    {
        var block = blocks.First(b => b.Traces.Contains(trace));
        return Math.Sqrt(PowerAt(block, Array.IndexOf(block.Traces, trace), scan));
    }

    /// <summary>The greatest power within a pulse's width of the seabed's echo.</summary>
    private static double PowerAt(ConditionedBlock block, int i, LineScan scan)
    {
        var (p, r) = block.Traces[i];
        double interval = scan.Reader.Compressor.Interval, at = (scan.SeabedTimes[p * scan.Receivers + r] - block.StartTimes[i]) / interval;
        int reach = (int)(0.5 * scan.Reader.Compressor.PulseWidth / interval);
        double most = 0;
        for (int k = Math.Max(0, (int)at - reach); k <= at + reach; k++)
        {
            int j = 2 * (i * block.SampleCount + k);
            most = Math.Max(most, (double)block.Samples[j] * block.Samples[j] + (double)block.Samples[j + 1] * block.Samples[j + 1]);
        }
        return most;
    }

    private static void Without(MemoryLine line, int ping, int receiver)
    {
        var before = line.Pings[ping];
        line.Pings[ping] = before with { Receivers = [.. before.Receivers.Where((_, r) => r != receiver)] };
        line.Samples[ping] = [.. Enumerable.Range(0, before.Receivers.Count).Where(r => r != receiver).SelectMany(r => line.Samples[ping].AsSpan(r * line.SampleCount, line.SampleCount).ToArray())];
    }
}
