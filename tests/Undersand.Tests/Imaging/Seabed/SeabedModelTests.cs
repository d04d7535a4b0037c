using Undersand.Imaging.Conditioning;
using Undersand.Imaging.Seabed;

namespace Undersand.Tests.Imaging.Seabed;

public sealed class SeabedModelTests
{
    private const double C = 1500;

    [Fact]
    public void One_line_over_a_level_seabed_gives_that_seabed_everywhere()
    {
        var model = Model([Line("a", 0, 50, 90, 20, (_, _) => 6.2)]);
        Assert.All(model.Common.Values, v => Assert.Equal(6.2, v, 1e-4));
        Assert.Equal(0, model.MisTies[0]);
        Assert.Equal(0, model.OffsetAt(0, 10), 1e-4);
    }

    [Fact]
    public void Crossing_lines_are_reconciled_and_each_keeps_its_own_seabed()
    {
        // The tide rose 12 cm between them.
        var model = Model([Line("a", 0, 10, 90, 20, (_, _) => 6.0), Line("b", 10, 0, 0, 20, (_, _) => 6.12)]);
        Assert.Equal(0.12, model.MisTies[1] - model.MisTies[0], 0.001);
        Assert.Equal(6.06, model.Common.At(10, 10), 0.002);
        Assert.Equal(6.0, model.Shape.At(3, 10) + model.OffsetAt(0, 15), 0.002);
        Assert.Equal(6.12, model.Shape.At(10, 17) + model.OffsetAt(1, 85), 0.002);
    }

    [Fact]
    public void A_difference_is_carried_along_a_chain_of_sixty_lines()
    {
        // Each line is 2 cm deeper than the one before and meets its two neighbours alone.
        var lines = Enumerable.Range(0, 60).Select(i => i % 2 == 0 ? Line($"{i}", i, 0, 0, 3, (_, _) => 6 + 0.02 * i) : Line($"{i}", i - 1, i % 4 == 1 ? 0.8 : 2.2, 90, 2, (_, _) => 6 + 0.02 * i)).ToList();
        var model = Model(lines);
        for (int i = 1; i < 60; i++)
            Assert.Equal(0.02, model.MisTies[i] - model.MisTies[i - 1], 0.002);
    }

    [Fact]
    public void Lines_that_never_meet_have_no_mis_tie()
    {
        var model = Model([Line("a", 0, 0, 90, 20, (_, _) => 6.0), Line("b", 0, 10, 90, 20, (_, _) => 6.3)]);
        Assert.All(model.MisTies, m => Assert.Equal(0, m));
    }

    [Fact]
    public void A_slope_goes_on_beyond_the_last_picks()
    {
        // 10 % down to the north, known across 0.6 m of array on each line.
        var model = Model([Line("a", 0, 0, 90, 12, (_, n) => 6 + 0.1 * n), Line("b", 0, 3, 90, 12, (_, n) => 6 + 0.1 * n)]);
        foreach (double n in new[] { -1.0, 0, 1.5, 3, 4.0 })
            Assert.Equal(6 + 0.1 * n, model.Common.At(6, n), 0.01);
    }

    [Fact]
    public void A_dip_of_one_line_into_a_hole_is_kept_at_its_width()
    {
        // A scour 2 m across and 20 cm deep: the smoothing of half a metre takes little of its middle.
        var model = Model([Line("a", 0, 0, 90, 20, (e, _) => 6 + 0.2 * Math.Exp(-(e - 10) * (e - 10) / 1.0))]);
        Assert.Equal(6.2, model.Shape.At(10, 0) + model.OffsetAt(0, 50), 0.02);
        Assert.Equal(6.0, model.Shape.At(4, 0) + model.OffsetAt(0, 20), 0.005);
    }

    [Fact]
    public void A_survey_so_large_that_the_grid_is_coarser_has_its_dips_as_well()
    {
        // 25 hectares, and lines side by side on a corner of them.
        static double Depth(double e, double n) => 6 + 0.2 * Math.Exp(-((e - 10) * (e - 10) + (n - 2) * (n - 2)) / 2);
        var lines = Enumerable.Range(0, 6).Select(i => Line($"{i}", 0, 0.8 * i, 90, 20, Depth)).Append(Line("far", 500, 500, 90, 2, (_, _) => 6)).ToList();
        var model = Model(lines);
        Assert.Equal(0.25, model.Shape.Spacing);
        Assert.Equal(6.2, model.Common.At(10, 2), 0.03);
        Assert.Equal(Depth(11, 2.5), model.Common.At(11, 2.5), 0.02);
        Assert.Equal(6.0, model.Common.At(3, 2), 0.005);
    }

    [Fact]
    public void Ripples_shorter_than_the_smoothing_do_not_count()
    {
        // 15 cm long, 4 cm high: rays don't refract at them, and burial isn't counted from them.
        var model = Model([Line("a", 0, 0, 90, 20, (e, _) => 6 + 0.02 * Math.Sin(2 * Math.PI * e / 0.15), 0.04)]);
        for (double e = 3; e < 17; e += 0.07)
            Assert.Equal(6, model.Common.At(e, 0), 0.004);
    }

    [Fact]
    public void A_line_that_comes_later_leaves_the_seabed_some_metres_away_as_it_was_to_the_last_bit()
    {
        // A slope with dunes on it; every line at another tide; the two that come widen the survey to the west, the south and the north.
        static double Depth(double e, double n) => 6 + 0.02 * e - 0.03 * n + 0.1 * Math.Sin(e / 2 + n / 3);
        var lines = Enumerable.Range(0, 10).Select(i => Line($"{i}", 400_000, 5_900_000 + 0.9 * i, 90, 12, (e, n) => Depth(e - 400_000, n - 5_900_000) + 0.017 * i)).ToList();
        SeabedModel before = Model(lines), after = Model([.. lines, Line("10", 399_996, 5_899_999.1, 90, 14, (e, n) => Depth(e - 400_000, n - 5_900_000) - 0.2), Line("11", 400_003, 5_900_040, 0, 5, (_, _) => 7)]);
        foreach (double n in Enumerable.Range(0, 20).Select(i => 5_900_006.8 + 0.06 * i))
            foreach (double e in Enumerable.Range(0, 100).Select(i => 400_000.03 + 0.12 * i))
                Assert.Equal(before.Shape.At(e, n), after.Shape.At(e, n));
        foreach (int line in new[] { 8, 9 })
            Assert.All(Enumerable.Range(0, 60), ping => Assert.Equal(before.OffsetAt(line, ping), after.OffsetAt(line, ping)));
        // Amid picks those within a metre settle it; where they are few, as past the lines' ends, it has a say.
        Assert.Equal(before.Shape.At(400_006, 5_900_000.9), after.Shape.At(400_006, 5_900_000.9));
        Assert.NotEqual(before.Shape.At(399_999, 5_900_002), after.Shape.At(399_999, 5_900_002));
    }

    private static SeabedModel Model(IReadOnlyList<(MemoryLine Line, Func<double, double, double> Depth)> lines)
    {
        var scans = lines.Select(l => Scanned(l.Line, l.Depth)).ToList();
        var all = lines.SelectMany(l => l.Line.Pings.Select(p => p.Source)).ToArray();
        return new SeabedModel(scans, all.Min(p => p.Easting) - 2, all.Min(p => p.Northing) - 2, all.Max(p => p.Easting) + 2, all.Max(p => p.Northing) + 2, 1.3, C, new ParallelOptions());
    }

    /// <summary>A scan as it would be of a seabed of this depth, which is all the model looks at.</summary>
    private static LineScan Scanned(MemoryLine line, Func<double, double, double> depthAt)
    {
        var compressor = Compressors.For(SyntheticLine.SandSurvey, line, new());
        var scan = new LineScan(new LineReader(line, SyntheticLine.SandSurvey, compressor, []));
        for (int p = 0; p < line.PingCount; p++)
        {
            var ping = line.Pings[p];
            scan.Along[p] = p == 0 ? 0 : scan.Along[p - 1] + ping.Source.HorizontalDistanceTo(line.Pings[p - 1].Source);
            scan.SeabedDepth[p] = depthAt(ping.Source.Easting, ping.Source.Northing);
            for (int r = 0; r < ping.Receivers.Count; r++)
            {
                var at = ping.Receivers[r].Position;
                double depth = depthAt(0.5 * (ping.Source.Easting + at.Easting), 0.5 * (ping.Source.Northing + at.Northing));
                scan.SeabedTimes[p * scan.Receivers + r] = (float)SeabedGeometry.EchoTime(ping.Source, at, depth, C);
            }
        }
        return scan;
    }

    private static (MemoryLine, Func<double, double, double>) Line(string name, double east, double north, double heading, double length, Func<double, double, double> depth, double spacing = 0.2)
    {
        double sin = Math.Sin(heading * Math.PI / 180), cos = Math.Cos(heading * Math.PI / 180);
        var pings = Enumerable.Range(0, (int)(length / spacing) + 1).Select(p =>
        {
            var source = new GridPoint(east + p * spacing * sin, north + p * spacing * cos, 5);
            return new Ping(p + 1, NodaTime.Instant.FromUnixTimeSeconds(p), 0, source,
                [.. new[] { -0.6, -0.2, 0.2, 0.6 }.Select((a, i) => new Receiver(i + 1, source with { Easting = source.Easting + a * cos, Northing = source.Northing - a * sin }, true))]);
        }).ToArray();
        return (new MemoryLine(name, pings, 600, 20e-6, []), depth);
    }
}
