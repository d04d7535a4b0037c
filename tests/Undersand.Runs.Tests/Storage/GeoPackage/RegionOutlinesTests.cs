using CsCheck;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoPackage;

namespace Undersand.Runs.Tests.Storage.GeoPackage;

public sealed class RegionOutlinesTests
{
    private static readonly Gen<int[,]> Grids =
        from nx in Gen.Int[1, 9] from ny in Gen.Int[1, 9] from cells in Gen.Int[0, 2].Array[nx * ny] select Grid(nx, ny, cells);

    [Fact]
    public void A_square_is_a_ring_of_four_corners_anticlockwise()
    {
        Region region = Assert.Single(RegionOutlines.Trace(new[,] { { 5, 5 }, { 5, 5 } }));
        Assert.Equal([(0, 0), (2, 0), (2, 2), (0, 2), (0, 0)], Assert.Single(region.Rings));
        Assert.Equal(5, region.Class);
    }

    [Fact]
    public void Areas_of_the_rings_add_up_to_the_cells_and_only_one_ring_is_an_outside() => Grids.Sample(grid =>
    {
        foreach (Region region in RegionOutlines.Trace(grid))
        {
            double[] areas = [.. region.Rings.Select(SignedArea)];
            Assert.Equal(region.Cells, areas.Sum());
            Assert.True(areas[0] > 0);
            Assert.All(areas.Skip(1), a => Assert.True(a < 0));
        }
    });

    [Fact]
    public void No_ring_touches_itself() => Grids.Sample(grid =>
    {
        foreach (var ring in RegionOutlines.Trace(grid).SelectMany(r => r.Rings))
            Assert.Equal(ring.Count - 1, ring.Distinct().Count());
    });

    [Fact]
    public void Every_cell_is_in_one_region_of_its_class() => Grids.Sample(grid =>
    {
        var cells = RegionOutlines.Trace(grid).GroupBy(r => r.Class).ToDictionary(g => g.Key, g => g.Sum(r => r.Cells));
        foreach (int value in new[] { 1, 2 })
            Assert.Equal(grid.Cast<int>().Count(c => c == value), cells.GetValueOrDefault(value));
    });

    [Fact]
    public void An_independent_geometry_library_finds_them_valid()
    {
        var random = new Random(3);
        var wkts = new List<string>();
        for (int i = 0; i < 200; i++)
        {
            int[,] grid = Grid(8, 8, [.. Enumerable.Range(0, 64).Select(_ => random.Next(0, 3))]);
            wkts.AddRange(RegionOutlines.Trace(grid).Select(r => "POLYGON(" + string.Join(",", r.Rings.Select(ring => "(" + string.Join(",", ring.Select(c => $"{c.X} {c.Y}")) + ")")) + ")"));
        }

        string path = Path.GetTempFileName();
        File.WriteAllLines(path, wkts);
        string said = OutsideReader.RunPython(
            "import sys\nfrom osgeo import ogr\nprint([w for w in open(sys.argv[1]) if not ogr.CreateGeometryFromWkt(w.strip()).IsValid()])", "osgeo", path);
        File.Delete(path);
        Assert.Equal("[]", said.Trim());
        Assert.True(wkts.Count > 1000);
    }

    private static int[,] Grid(int nx, int ny, int[] cells)
    {
        var grid = new int[nx, ny];
        for (int i = 0; i < cells.Length; i++)
            grid[i % nx, i / nx] = cells[i];
        return grid;
    }

    private static double SignedArea(IReadOnlyList<(int X, int Y)> ring) =>
        Enumerable.Range(1, ring.Count - 1).Sum(i => 0.5 * (ring[i - 1].X * ring[i].Y - ring[i].X * ring[i - 1].Y));
}
