using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Simulation;
using Undersand.Tests.Simulation;
using static Undersand.Tests.Imaging.LineScenes;

namespace Undersand.Tests.Imaging;

public sealed class PointSpreadTests
{
    [Fact]
    public void A_points_image_is_as_wide_as_the_point_spread_says_within_10_percent()
    {
        const double burial = 0.6;
        var scene = SmallScenes.Empty() with { Objects = [new BuriedPoint("point", East + 3, North, burial, Material.Stone, 0.05)] };
        var (survey, line) = Simulate(Plan(6, Row(4, 1.0), noise: 0.005), scene);
        var imager = Image(survey with { Image = new ImageSettings(1.0, 0.0125) }, Scan(survey, line));
        var blur = imager.BlurAt(0, East + 3, North, burial);
        var grid = imager.Grid;
        // Both from the whole spacing of the grid: the point lies on a node of it.
        int x = (int)Math.Round((East + 3 - grid.OriginEasting) / grid.Spacing), y = (int)Math.Round((North - grid.OriginNorthing) / grid.Spacing), z = (int)Math.Round((burial - grid.FirstBurial) / grid.Spacing);
        var tiles = new Dictionary<(int, int), LookSums?[]>();
        Assert.Equal(1, Width(i => Value(x + i, y, z)) * grid.Spacing / blur.Along, 0.1);
        Assert.Equal(1, Width(i => Value(x, y + i, z)) * grid.Spacing / blur.Across, 0.1);
        Assert.Equal(1, Width(i => Value(x, y, z + i)) * grid.Spacing / blur.Burial, 0.1);

        double Value(int ix, int iy, int iz)
        {
            var key = (ix / VoxelGrid.TileSize, iy / VoxelGrid.TileSize);
            if (!tiles.TryGetValue(key, out var groups))
                tiles[key] = groups = Tile(imager, ix, iy);
            return Column(groups, grid, ix, iy)[iz].Magnitude;
        }
    }

    /// <summary>Full width at half the value in the middle, in steps.</summary>
    private static double Width(Func<int, double> value)
    {
        double half = 0.5 * value(0);
        return Side(1) + Side(-1);

        double Side(int direction)
        {
            int i = 1;
            while (value(direction * i) > half)
                i++;
            double before = value(direction * (i - 1)), after = value(direction * i);
            return i - 1 + (before - half) / (before - after);
        }
    }

    [Fact]
    public void One_receiver_alone_does_not_know_across_the_track()
    {
        var imager = OfReceivers(1, 0);
        var blur = imager.BlurAt(0, East + 3, North, 0.5);
        Assert.True(blur.Across > 5 * blur.Along, $"{blur}");
    }

    [Fact]
    public void Depth_is_resolved_by_the_pulse_and_the_track_by_the_aperture()
    {
        var blur = OfReceivers(4, 1.0).BlurAt(0, East + 3, North, 0.5);
        // The pulse is 2/B long at −6 dB; over a path that lengthens by 2 dz/c₂ (straight down): 2·1650/(2·14000) = 0.118 m. A slanted path lengthens less, by cos θ₂, and the blur is the longer for it: at most by 1/cos 42.6°.
        Assert.InRange(blur.Burial, 0.118, 0.118 / Math.Cos(42.6 * Math.PI / 180));
        // λ/(4 sin θ) at 11 kHz and 35° in the water, 0.136 m / (4 · 0.574) = 0.059 m, is the least a hard-edged aperture gives; the taper and what lies between add.
        Assert.InRange(blur.Along, 0.059, 0.12);
    }

    private static SurveyImager OfReceivers(int count, double width)
    {
        // The geometry alone matters: chirps at the seabed's time, no scene.
        var line = SyntheticLine.Make(60, _ => 0.9, count, width);
        return Image(SyntheticLine.SandSurvey, Scan(SyntheticLine.SandSurvey, line));
    }
}
