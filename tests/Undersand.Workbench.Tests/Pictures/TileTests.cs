using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Pictures;

public class TileTests
{
    private readonly OpenedResults _results;
    private readonly MapTiles _maps;
    private readonly SectionTiles _sections;

    public TileTests(SmallResults small)
    {
        _results = OpenedResults.Open(small.Folder);
        _maps = new MapTiles(_results);
        _sections = new SectionTiles(_results, _maps);
    }

    [Fact]
    public void At_the_level_of_the_voxels_a_pixel_is_a_voxels_value_in_the_quantitys_colour()
    {
        Quantity probability = _maps.Quantities.Single(q => q.Name == "probability");
        float[] values = _results.Maps["probability"].ReadTile(0, 0, 0);
        Picture picture = Picture.Read(_maps.Picture("probability", _maps.Coarsest, 0, 0)!);
        Assert.Equal(values.Select(v => probability.IndexOf(v)), picture.Indices);
        Assert.Contains(picture.Indices, i => i > 200);
        Assert.Contains(picture.Indices, i => i == 0);
    }

    [Fact]
    public void Seen_from_afar_the_most_probable_place_is_still_there()
    {
        byte strongest = Picture.Read(_maps.Picture("probability", _maps.Coarsest, 0, 0)!).Indices.Max();
        Assert.Equal(strongest, Picture.Read(_maps.Picture("probability", 0, 0, 0)!).Indices.Max());
    }

    [Fact]
    public void Not_surveyed_blind_and_seen_differ_by_texture()
    {
        // Far outside no sound went: slanting lines, each row shifted by one against the row above.
        Picture outside = Picture.Read(_maps.Picture("ground", _maps.Coarsest, 40, 40)!);
        Assert.Contains(outside.Indices, i => i > 0);
        for (int y = 1; y < 256; y++)
            for (int x = 0; x < 255; x++)
                Assert.Equal(outside[x + 1, y - 1], outside[x, y]);
        // Where the reference sphere would have stood out the ground is plain.
        double spacing = _maps.Spacing;
        var seen = _results.Targets[0].Position;
        int px = (int)((seen.Easting - _maps.West) / spacing), py = (int)((_maps.North - seen.Northing) / spacing);
        Assert.True(_maps.At("could_have_seen", seen.Easting, seen.Northing) > 0);
        Assert.Equal(0, Picture.Read(_maps.Picture("ground", _maps.Coarsest, px / 256, py / 256)!)[px % 256, py % 256]);
    }

    [Fact]
    public void A_section_shows_the_volumes_own_values_burial_downwards()
    {
        Target ball = _results.Targets[0];
        VoxelGrid grid = _results.Volume.Grid;
        int iy = (int)Math.Round((ball.Position.Northing - grid.OriginNorthing) / grid.Spacing);
        var path = SectionPath.Parse(FormattableString.Invariant($"{grid.EastingAt(-0.5)},{grid.NorthingAt(iy)},{grid.EastingAt(grid.CountX - 0.5)},{grid.NorthingAt(iy)}"))!;
        Picture picture = Picture.Read(_sections.Picture("trial", path, "probability", depth: false, level: 0, x: 0)!);
        Assert.Equal((256, grid.CountZ), (picture.Width, picture.Height));
        Quantity quantity = _sections.Quantities.Single(q => q.Name == "probability");
        for (int ix = 0; ix < Math.Min(grid.CountX, 256); ix++)
        {
            float[]? tile = _results.Volume.ReadProbability(new TileIndex(ix / 64, iy / 64));
            for (int z = 0; z < grid.CountZ; z++)
                Assert.Equal(tile is null ? 0 : quantity.IndexOf(tile[(iy % 64 * 64 + ix % 64) * grid.CountZ + z]), picture[ix, z]);
        }
        int at = (int)Math.Round((ball.Position.Easting - grid.OriginEasting) / grid.Spacing);
        int deepest = Enumerable.Range(0, grid.CountZ).MaxBy(z => Enumerable.Range(-2, 5).Max(d => picture[at + d, z]));
        Assert.Equal(ball.BurialDepth.Value, grid.BurialAt(deepest), 0.15);
    }

    [Fact]
    public void A_slice_is_the_volume_at_one_burial()
    {
        VoxelGrid grid = _results.Volume.Grid;
        int level = (int)Math.Round((_results.Targets[0].BurialDepth.Value - grid.FirstBurial) / grid.Spacing);
        Picture picture = Picture.Read(_sections.Slice("probability", level, _maps.Coarsest, 0, 0)!);
        Quantity quantity = _sections.Quantities.Single(q => q.Name == "probability");
        for (int iy = 0; iy < grid.CountY; iy++)
            for (int ix = 0; ix < Math.Min(grid.CountX, 256); ix++)
            {
                float[]? tile = _results.Volume.ReadProbability(new TileIndex(ix / 64, iy / 64));
                Assert.Equal(tile is null ? 0 : quantity.IndexOf(tile[(iy % 64 * 64 + ix % 64) * grid.CountZ + level]), picture[ix, grid.CountY - 1 - iy]);
            }
        Assert.Null(_sections.Slice("probability", grid.CountZ, _maps.Coarsest, 0, 0));
    }

    [Fact]
    public void In_depth_a_column_moves_down_by_its_seabed()
    {
        SectionPath line = _sections.Line("line-01.sgy")!;
        VoxelGrid grid = _results.Volume.Grid;
        Picture burial = Picture.Read(_sections.Picture("a", line, "reflectivity", depth: false, 0, 0)!), depth = Picture.Read(_sections.Picture("b", line, "reflectivity", depth: true, 0, 0)!);
        for (int x = 10; x < (int)(line.Length / grid.Spacing) - 10; x += 7)
        {
            (double e, double n) = line.At((x + 0.5) * grid.Spacing);
            double seabed = _maps.At("seabed", e, n);
            int shift = Enumerable.Range(0, depth.Height).First(r => depth[x, r] > 0) - Enumerable.Range(0, burial.Height).First(r => burial[x, r] > 0);
            Assert.Equal(seabed + grid.FirstBurial, _sections.FirstDepth + (shift + 0.5) * grid.Spacing, 0.5 * grid.Spacing + 1e-9);
        }
    }

    [Fact]
    public void Coarser_columns_show_the_greatest_of_the_finer()
    {
        SectionPath line = _sections.Line("line-01.sgy")!;
        Picture fine = Picture.Read(_sections.Picture("f", line, "coherence", false, 0, 0)!), coarse = Picture.Read(_sections.Picture("c", line, "coherence", false, 1, 0)!);
        for (int y = 0; y < fine.Height; y++)
            for (int x = 0; x < 128; x++)
                Assert.Equal(Math.Max(fine[2 * x, y], fine[2 * x + 1, y]), coarse[x, y]);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("1,2,3")]
    [InlineData("1,2,x,4")]
    [InlineData("1,2,NaN,4")]
    [InlineData("1,2,1,2")]
    [InlineData("0,0,1e9,0")]
    public void Words_that_are_no_way_are_none(string? words) => Assert.Null(SectionPath.Parse(words));
}
