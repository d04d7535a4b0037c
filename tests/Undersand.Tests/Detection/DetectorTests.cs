using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class DetectorTests
{
    internal static Survey SurveyOf(double objectsPerHectare = 40) => new() { Prior = new(objectsPerHectare), Name = "synthetic", Epsg = 32631, Water = new(1500), Sediment = new(1650, 1950, 0.48), Waveform = new(4000, 18000, 0.005, 0.1) };

    internal static IReadOnlyList<Target> Run(SyntheticVolume volume, DetectionSettings? settings = null, double objectsPerHectare = 40, bool log = true)
    {
        var detector = new Detector(SurveyOf(objectsPerHectare), volume, volume, settings ?? new DetectionSettings());
        detector.LearnNull(null, TestContext.Current.CancellationToken);
        var targets = detector.Targets(null, null, TestContext.Current.CancellationToken);
        foreach (var t in log ? targets : [])
            TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant($"{t.Id} e {t.Position.Easting - 1000:F3} n {t.Position.Northing - 2000:F3} b {t.BurialDepth.Value:F3}±{t.BurialDepth.StandardDeviation:F3} p {t.Probability.Value:F4} lnBF {t.LogBayesFactor:F1} L {t.Length:F2} W {t.Width:F2} sd {t.HorizontalSd:F3} rel {t.ReflectionRelativeToSeabed:F2} lines {t.LinesSeen} looks {t.Looks} alt {t.Alternative} {t.Material} {string.Join(' ', t.Notes)}"));
        return targets;
    }

    [Fact]
    public void A_point_twenty_decibels_above_speckle_is_found_where_it_is()
    {
        var volume = new SyntheticVolume(128, 128, 50, 1);
        volume.AddSpeckle(0, 1);
        volume.AddPoint(0, 3.013, 2.987, 0.912, 10);
        var target = Assert.Single(Run(volume), t => t.Probability.Value > 0.5);
        Assert.True(target.Probability.Value > 0.95);
        Assert.Equal(1003.013, target.Position.Easting, 0.03);
        Assert.Equal(2002.987, target.Position.Northing, 0.03);
        Assert.Equal(0.912, target.BurialDepth.Value, 0.015);
    }

    [Fact]
    public void Speckle_alone_gives_no_target()
    {
        for (int seed = 1; seed <= 2; seed++)
        {
            var volume = new SyntheticVolume(192, 192, 60, 1);
            volume.AddSpeckle(0, seed);
            Assert.DoesNotContain(Run(volume), t => t.Probability.Value > 0.5);
        }
    }

    [Fact]
    public void Quiet_points_are_found_to_the_centimetre_and_their_sidelobes_are_not_targets()
    {
        var volume = new SyntheticVolume(192, 192, 50, 1);
        volume.AddSpeckle(0, 1, 1e-4);
        (double E, double N, double B)[] truth = [(2.52, 2.51, 0.331), (6.03, 2.48, 0.817), (2.49, 6.52, 1.268), (6.47, 6.53, 2.013)];
        foreach (var (e, n, b) in truth)
            volume.AddPoint(0, e, n, b, 1);
        var targets = Run(volume);
        Assert.Equal(4, targets.Count);
        foreach (var (e, n, b) in truth)
        {
            var t = targets.MinBy(t => t.Position.HorizontalDistanceTo(new GridPoint(1000 + e, 2000 + n, 0)))!;
            Assert.True(t.Probability.Value > 0.9);
            Assert.Equal(b, t.BurialDepth.Value, 0.015);
            Assert.True(t.Position.HorizontalDistanceTo(new GridPoint(1000 + e, 2000 + n, 0)) < 0.03);
        }
    }

    [Fact]
    public void One_thread_and_many_give_the_same_bits()
    {
        var volume = new SyntheticVolume(160, 130, 30, 2);
        volume.AddSpeckle(0, 21);
        volume.AddSpeckle(1, 22);
        volume.AddPoint(0, 3, 3, 0.7, 12);
        var results = new[] { 1, 4 }.Select(threads =>
        {
            var detector = new Detector(SurveyOf(), volume, volume, new DetectionSettings { DegreeOfParallelism = threads });
            detector.LearnNull(null, TestContext.Current.CancellationToken);
            var targets = detector.Targets(null, null, TestContext.Current.CancellationToken);
            return (Probabilities: volume.Grid.Tiles().SelectMany(detector.ProbabilityOf).ToArray(), Targets: targets.Select(t => (t.Id, t.Position, t.Probability, t.BurialDepth)).ToArray());
        }).ToArray();
        Assert.Equal(results[0].Probabilities, results[1].Probabilities);
        Assert.Equal(results[0].Targets, results[1].Targets);
        Assert.NotEmpty(results[0].Targets);
    }

    [Fact]
    public void What_no_line_saw_has_no_probability_and_the_rest_has_one()
    {
        var volume = new SyntheticVolume(70, 70, 20, 1);
        volume.AddSpeckle(0, 31);
        volume.Unsee(0, (x, _) => x < 20);
        var detector = new Detector(SurveyOf(), volume, volume, new DetectionSettings());
        detector.LearnNull(null, TestContext.Current.CancellationToken);
        float[] p = detector.ProbabilityOf(new TileIndex(0, 0));
        Assert.True(float.IsNaN(p[(10 * VoxelGrid.TileSize + 5) * 20 + 3]));
        Assert.InRange(p[(10 * VoxelGrid.TileSize + 40) * 20 + 3], 0f, 0.5f);
    }

    [Fact]
    public void A_strip_of_a_layer_along_the_track_of_one_line_is_doubted()
    {
        var volume = new SyntheticVolume(128, 192, 40, 1);
        volume.AddSpeckle(0, 41, 0.05);
        for (double n = 1; n < 8.5; n += 0.04)
            volume.AddPoint(0, 3.2, n, 0.9, 0.7);
        var strip = Run(volume, new DetectionSettings { ListFrom = 0.01 }).Where(t => Math.Abs(t.Position.Easting - 1003.2) < 0.1).ToList();
        Assert.NotEmpty(strip);
        Assert.All(strip, t => Assert.True(t.Probability.Value < 0.1 && t.Notes.Count > 0));
    }
}
