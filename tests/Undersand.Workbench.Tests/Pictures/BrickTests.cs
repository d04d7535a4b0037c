using System.Net;
using System.Net.Http;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Pictures;

public class BrickTests
{
    private readonly SmallResults _small;
    private readonly OpenedResults _results;
    private readonly SectionTiles _sections;
    private readonly VolumeBricks _bricks;
    private readonly VoxelGrid _grid;

    public BrickTests(SmallResults small)
    {
        _small = small;
        _results = OpenedResults.Open(small.Folder);
        _sections = new SectionTiles(_results, new MapTiles(_results));
        _bricks = new VolumeBricks(_results, _sections);
        _grid = _results.Volume.Grid;
    }

    [Fact]
    public void A_finest_brick_is_the_volumes_own_values()
    {
        (TileIndex at, _) = Ball();
        float[] values = _results.Volume.ReadProbability(at)!;
        byte[] brick = _bricks.Brick("probability", 0, at.X, at.Y)!;
        Quantity quantity = _sections.Quantities.Single(q => q.Name == "probability");
        Assert.Equal(64 * 64 * _grid.CountZ, brick.Length);
        for (int row = 0; row < 64; row++)
            for (int column = 0; column < 64; column++)
                for (int z = 0; z < _grid.CountZ; z++)
                    Assert.Equal(quantity.IndexOf(values[(row * 64 + column) * _grid.CountZ + z]), brick[(z * 64 + row) * 64 + column]);
        Assert.Contains(brick, b => b > 100);
        Assert.Contains(brick, b => b == 0);
    }

    [Theory]
    [InlineData("reflectivity")]
    [InlineData("coherence")]
    [InlineData("probability")]
    public void A_coarser_voxel_is_the_greatest_of_eight(string name)
    {
        (TileIndex at, _) = Ball();
        for (int level = 1; level <= 3; level++)
        {
            int x = at.X >> level, y = at.Y >> level;
            byte[] coarse = _bricks.Brick(name, level, x, y)!;
            Assert.Equal(64 * 64 * _bricks.Deep(level), coarse.Length);
            for (int i = 0; i < coarse.Length; i += 37)
                Assert.Equal(GreatestBelow(name, level, x * 64 + i % 64, y * 64 + i / 64 % 64, i / 4096), coarse[i]);
        }
    }

    [Fact]
    public void Seen_from_afar_the_most_probable_voxel_is_still_there()
    {
        byte greatest = _grid.Tiles().Select(t => _bricks.Brick("probability", 0, t.X, t.Y)!).Where(b => b.Length > 0).Max(b => b.Max());
        Assert.Equal(greatest, _bricks.Brick("probability", VolumeBricks.MostLevel, 0, 0)!.Max());
    }

    [Fact]
    public void Where_nobody_looked_no_value_stands_however_coarse()
    {
        // Columns beyond the grid's edge belong to its last tile and were never imaged.
        byte[] brick = _bricks.Brick("reflectivity", 0, _grid.TilesX - 1, 0)!;
        int beyond = _grid.CountX % 64;
        Assert.InRange(beyond, 1, 63);
        for (int i = 0; i < brick.Length; i++)
            if (i % 64 >= beyond)
                Assert.Equal(0, brick[i]);
    }

    [Fact]
    public async Task The_server_gives_bricks_and_refuses_what_is_none()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        (TileIndex at, _) = Ball();
        Assert.Equal(_bricks.Brick("coherence", 0, at.X, at.Y), await _small.Client.GetByteArrayAsync($"/brick/coherence/0/{at.X}/{at.Y}", stop));
        foreach (string wrong in new[] { "elsewhere/0/0/0", "coherence/-1/0/0", "coherence/9/0/0", "coherence/0/-1/0", $"coherence/0/{_grid.TilesX}/0", $"coherence/0/0/{_grid.TilesY}", "coherence/8/2147483647/0", "coherence/0/x/0" })
        {
            using HttpResponseMessage answer = await _small.Client.GetAsync("/brick/" + wrong, stop);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        }
    }

    private byte GreatestBelow(string name, int level, int ix, int iy, int iz)
    {
        byte greatest = 0;
        int wide = 1 << level;
        for (int y = iy * wide; y < (iy + 1) * wide; y++)
            for (int x = ix * wide; x < (ix + 1) * wide; x++)
                if (_bricks.Brick(name, 0, x / 64, y / 64) is { Length: > 0 } brick)
                    for (int z = iz * wide; z < Math.Min((iz + 1) * wide, _grid.CountZ); z++)
                        greatest = Math.Max(greatest, brick[(z * 64 + y % 64) * 64 + x % 64]);
        return greatest;
    }

    private (TileIndex Tile, int Start) Ball()
    {
        GridPoint ball = _results.Targets[0].Position;
        Assert.True(_grid.TryColumn(ball.Easting, ball.Northing, out int ix, out int iy));
        return _grid.Locate(ix, iy);
    }
}
