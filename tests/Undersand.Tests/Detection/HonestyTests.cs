using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class HonestyTests
{
    [Theory]
    [InlineData(double.PositiveInfinity, 1)]
    [InlineData(3.0, 1)]
    [InlineData(1.0, 1)]
    [InlineData(1.0, 2)]
    public void Clutter_alone_gives_no_probable_target(double shape, int lines)
    {
        for (int seed = 1; seed <= 1; seed++)
        {
            var volume = new SyntheticVolume(192, 192, 40, lines);
            for (int l = 0; l < lines; l++)
                volume.AddSpeckle(l, 100 * seed + l, 1, shape, 0.5);
            var targets = DetectorTests.Run(volume, null, 40, false);
            Assert.DoesNotContain(targets, t => t.Probability.Value > 0.5);
        }
    }

    [Theory]
    [InlineData(double.PositiveInfinity)]
    [InlineData(1.0)]
    public void Of_targets_said_to_be_probable_most_are_and_the_strong_are_found(double shape)
    {
        var said = new List<double>();
        var was = new List<bool>();
        var wrong = new List<string>();
        int strong = 0, found = 0;
        for (int seed = 1; seed <= 4; seed++)
        {
            var volume = new SyntheticVolume(192, 192, 40, 1);
            volume.AddSpeckle(0, seed, 1, shape);
            double greatest = Greatest(volume);
            var random = new Random(seed);
            var truth = new List<(double E, double N, double B, double A)>();
            for (int i = 0; i < 9; i++)
            {
                double amplitude = Math.Pow(10, 2.2 * random.NextDouble());
                truth.Add((1.6 + 3.2 * (i % 3) + 0.4 * random.NextDouble(), 1.6 + 3.2 * (i / 3) + 0.4 * random.NextDouble(), 0.3 + 1.5 * random.NextDouble(), amplitude));
                volume.AddPoint(0, truth[i].E, truth[i].N, truth[i].B, amplitude);
            }
            var targets = DetectorTests.Run(volume, new DetectionSettings { ListFrom = 0.02 }, 9 / 0.00922, false);
            foreach (var t in targets)
            {
                said.Add(t.Probability.Value);
                was.Add(truth.Any(o => IsAt(t, o)));
                if (!was[^1])
                    wrong.Add($"seed {seed}: {t.Position} burial {t.BurialDepth.Value} p {t.Probability.Value}; near {truth.MinBy(o => t.Position.HorizontalDistanceTo(new GridPoint(1000 + o.E, 2000 + o.N, 0)))}");
            }
            foreach (var o in truth.Where(o => o.A > 2 * greatest))
            {
                strong++;
                found += targets.Any(t => t.Probability.Value > 0.5 && IsAt(t, o)) ? 1 : 0;
            }
        }
        var log = TestContext.Current.TestOutputHelper!;
        foreach (string line in wrong)
            log.WriteLine(line);
        foreach (var bin in said.Zip(was).GroupBy(p => Math.Min((int)(p.First * 5), 4)).OrderBy(g => g.Key))
            log.WriteLine(FormattableString.Invariant($"said {bin.Average(p => p.First):F2}: {bin.Count(p => p.Second)} of {bin.Count()} were"));
        log.WriteLine(FormattableString.Invariant($"Brier {Reliability.Of(said, was).Score:F4}; of {strong} objects 6 dB over the greatest clutter {found} found"));
        Assert.True(Reliability.Of(said, was).Score < 0.1);
        Assert.True(found >= 0.9 * strong);
    }

    private static bool IsAt(Target t, (double E, double N, double B, double A) o) =>
        t.Position.HorizontalDistanceTo(new GridPoint(1000 + o.E, 2000 + o.N, 0)) < 0.15 && Math.Abs(t.BurialDepth.Value - o.B) < 0.15;

    private static double Greatest(SyntheticVolume volume)
    {
        double greatest = 0;
        foreach (var tile in volume.Grid.Tiles())
            if (volume.Read(tile, 0) is { } sums)
                for (int i = 0; i < sums.Real.Length; i++)
                    if (sums.Traces[i] > 0)
                        greatest = Math.Max(greatest, Math.Sqrt(sums.Real[i] * (double)sums.Real[i] + sums.Imaginary[i] * (double)sums.Imaginary[i]) / sums.Traces[i]);
        return greatest;
    }
}
