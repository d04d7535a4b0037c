using Undersand.Imaging;
using Undersand.Simulation;
using Undersand.Tests.Simulation;
using static Undersand.Tests.Imaging.LineScenes;

namespace Undersand.Tests.Imaging;

/// <summary>What is said to leak, against what a simulated point really shows elsewhere in the image.</summary>
public sealed class EchoLeakTests
{
    private const double Burial = 0.6, Aside = 0.5;

    [Fact]
    public void A_body_leaks_wholly_to_its_own_place_and_to_its_mirror_image_in_a_line_of_one_receiver()
    {
        var imager = Of(1, 0);
        Assert.Equal(1, imager.LeakAt(0, Place(imager, Aside, Burial), Place(imager, Aside, Burial)), 0.02);
        double said = imager.LeakAt(0, Place(imager, Aside, Burial), Place(imager, -Aside, Burial)), seen = Amplitude(imager, -Aside, Burial) / Amplitude(imager, Aside, Burial);
        Assert.Equal(1, said, 0.15);
        Assert.Equal(said, seen, 0.2);
    }

    [Theory]
    [InlineData(5, 1.4)]
    [InlineData(3, 0.8)]
    public void What_a_sparse_array_repeats_is_foretold_within_6_dB(int receivers, double width)
    {
        var imager = Of(receivers, width);
        double own = Amplitude(imager, Aside, Burial);
        // The strongest repeats more than half a metre away across the track, at any burial.
        var repeats = from across in Steps(-0.9, -0.1, 0.05) from burial in Steps(0.2, 1.2, 0.05) select (Across: across, Burial: burial, Seen: Amplitude(imager, across, burial) / own);
        foreach (var (across, burial, seen) in repeats.OrderByDescending(r => r.Seen).Take(5))
        {
            Assert.InRange(seen, 0.01, 1);
            double said = imager.LeakAt(0, Place(imager, Aside, Burial), Place(imager, across, burial));
            Assert.InRange(said / seen, 0.5, 4);
        }
    }

    [Fact]
    public void Hardly_anything_leaks_along_the_track_beyond_the_echos_own_arc()
    {
        // Some 300 traces add there without order: 1/√300 = 0.06.
        var imager = Of(5, 1.4);
        var body = Place(imager, Aside, Burial);
        Assert.InRange(imager.LeakAt(0, body, body with { Easting = body.Easting + 1.5 }), 0, 0.1);
    }

    [Fact]
    public void Nothing_counts_as_seen_farther_than_20_cm_beyond_a_lines_ends()
    {
        var imager = Of(5, 1.4);
        var grid = imager.Grid;
        int y = (int)Math.Round((North - grid.OriginNorthing) / grid.Spacing);
        // The source flies 0.3 m ahead of the vehicle.
        Assert.True(Traces(0.2) > 0 && Traces(6.2) > 0);
        Assert.Equal(0, Traces(0.05) + Traces(6.6));

        int Traces(double along)
        {
            int x = (int)Math.Round((East + along - grid.OriginEasting) / grid.Spacing);
            return Tile(imager, x, y).Sum(look => look?.Traces[look.ColumnStart(x % VoxelGrid.TileSize, y % VoxelGrid.TileSize) + 10] ?? 0);
        }
    }

    private static SurveyImager Of(int receivers, double width)
    {
        var scene = SmallScenes.Empty() with { Objects = [new BuriedPoint("point", East + 3, North + Aside, Burial, Material.Stone, 0.05)] };
        var (survey, line) = Simulate(Plan(6, Row(receivers, width), noise: 0.002), scene);
        return Image(survey, Scan(survey, line));
    }

    private static BuriedPlace Place(SurveyImager imager, double across, double burial) => new(East + 3, North + across, imager.SeabedDepthAt(East + 3, North + across), burial);

    private static double Amplitude(SurveyImager imager, double across, double burial) => At(imager, East + 3, North + across, burial).Magnitude;

    private static IEnumerable<double> Steps(double from, double to, double step)
    {
        for (double v = from; v <= to; v += step)
            yield return v;
    }
}
