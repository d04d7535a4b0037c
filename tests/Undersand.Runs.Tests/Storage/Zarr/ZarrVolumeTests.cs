using System.Text.Json;
using Undersand.Positioning;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.Zarr;

namespace Undersand.Runs.Tests.Storage.Zarr;

public sealed class ZarrVolumeTests : IDisposable
{
    private static readonly VoxelGrid Grid = new(500000.025, 5760980.025, 0.05, 150, 100, 7, 0.1);
    private static readonly Look[] Looks = [new(0, 0, 0, "line-1.sgy, ahead"), new(1, 0, 1, "line-1.sgy, astern"), new(2, 4, 0, "Gänge-2.sgy")];
    private readonly ScratchFolder _folder = new();

    private string Store => _folder["volume.zarr"];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_tile_comes_back_as_it_was_written()
    {
        ZarrVolume volume = Create();
        LookSums written = Sums(1);
        volume.WriteTile(new TileIndex(2, 1), 1, written);

        LookSums read = ZarrVolume.Open(Store).Read(new TileIndex(2, 1), 1)!;

        Assert.Equal(written.Real, read.Real);
        Assert.Equal(written.Imaginary, read.Imaginary);
        Assert.Equal(written.SumOfSquares, read.SumOfSquares);
        Assert.Equal(written.Traces, read.Traces);
    }

    [Fact]
    public void Grid_and_looks_come_back_on_opening()
    {
        Create();
        ZarrVolume read = ZarrVolume.Open(Store);
        Assert.Equal(Grid, read.Grid);
        Assert.Equal(Looks, read.Looks);
    }

    [Fact]
    public void A_look_that_never_saw_a_tile_is_absent_on_disk_and_null()
    {
        ZarrVolume volume = Create();
        volume.WriteTile(new TileIndex(0, 0), 0, Sums(1));
        Assert.Null(volume.Read(new TileIndex(0, 0), 1));
        Assert.Null(volume.Read(new TileIndex(1, 0), 0));
        Assert.Null(volume.ReadProbability(new TileIndex(0, 0)));
        Assert.False(File.Exists(Path.Combine(Store, "traces", "1.0.0.0")));
    }

    [Theory]
    [InlineData("sum_real")]
    [InlineData("sum_imaginary")]
    [InlineData("sum_of_squares")]
    [InlineData("traces")]
    public void A_tile_with_a_chunk_missing_is_not_there(string missing)
    {
        ZarrVolume volume = Create();
        volume.WriteTile(new TileIndex(1, 0), 2, Sums(1));
        Assert.True(volume.HasTile(new TileIndex(1, 0), 2));
        File.Delete(Path.Combine(Store, missing, "2.0.0.1"));
        Assert.Null(volume.Read(new TileIndex(1, 0), 2));
        Assert.False(volume.HasTile(new TileIndex(1, 0), 2));
    }

    [Fact]
    public void A_fingerprint_stands_until_the_tile_is_written_again()
    {
        ZarrVolume volume = Create();
        var tile = new TileIndex(2, 0);
        Assert.Null(volume.TileFingerprint(tile));
        volume.WriteTile(tile, 0, Sums(1));
        volume.MarkTile(tile, "ab12");
        volume.WriteProbability(tile, Probability());
        Assert.Equal("ab12", ZarrVolume.Open(Store).TileFingerprint(tile));
        volume.WriteTile(tile, 0, Sums(2));
        Assert.Null(volume.TileFingerprint(tile));
    }

    [Fact]
    public void What_lines_show_together_comes_back_and_is_missing_where_it_was_not_written()
    {
        ZarrVolume volume = Create();
        float[] coherence = [.. Probability().Select(p => p / 2)];
        volume.WriteTogether(new TileIndex(0, 1), new LinesTogether(Probability(), coherence));
        LinesTogether read = ZarrVolume.Open(Store).ReadTogether(new TileIndex(0, 1))!;
        Assert.Equal(Probability(), read.Amplitude);
        Assert.Equal(coherence, read.Coherence);
        Assert.Null(volume.ReadTogether(new TileIndex(0, 0)));
    }

    [Fact]
    public void A_cleared_tile_leaves_nothing()
    {
        ZarrVolume volume = Create();
        var before = ScratchFolder.Fingerprints(Store);
        volume.WriteTile(new TileIndex(0, 1), 2, Sums(1));
        volume.WriteProbability(new TileIndex(0, 1), Probability());
        volume.WriteTogether(new TileIndex(0, 1), new LinesTogether(Probability(), Probability()));
        volume.MarkTile(new TileIndex(0, 1), "ab12");
        volume.ClearTile(new TileIndex(0, 1));
        Assert.Equal(before, ScratchFolder.Fingerprints(Store));
    }

    [Fact]
    public void Taking_up_again_keeps_the_tiles_also_with_looks_added()
    {
        ZarrVolume volume = Create();
        volume.WriteTile(new TileIndex(1, 1), 2, Sums(3));
        volume.MarkTile(new TileIndex(1, 1), "cd34");
        ZarrVolume more = ZarrVolume.Create(Store, Grid, [.. Looks, new Look(3, 5, 0, "a much longer name than those before.sgy")], Results.Utm31, "made up");
        Assert.Equal(Sums(3).Real, more.Read(new TileIndex(1, 1), 2)!.Real);
        Assert.Equal("cd34", more.TileFingerprint(new TileIndex(1, 1)));
        Assert.Equal(4, ZarrVolume.Open(Store).Looks.Count);
    }

    [Fact]
    public void Looks_that_come_between_or_go_leave_the_others_what_they_have()
    {
        ZarrVolume volume = Create();
        volume.WriteTile(new TileIndex(1, 1), 2, Sums(3));
        volume.WriteTile(new TileIndex(1, 1), 0, Sums(4));
        volume.MarkTile(new TileIndex(1, 1), "cd34");
        Look[] between = [Looks[0], new Look(1, 1, 0, "a line between"), Looks[1] with { Index = 2 }, Looks[2] with { Index = 3 }];
        ZarrVolume more = ZarrVolume.Create(Store, Grid, between, Results.Utm31, "made up");
        Assert.Equal([true, false, false, true], between.Select(l => more.HasTile(new TileIndex(1, 1), l.Index)));
        Assert.Equal(Sums(3).Real, more.Read(new TileIndex(1, 1), 3)!.Real);
        Assert.Equal("cd34", more.TileFingerprint(new TileIndex(1, 1)));
        ZarrVolume less = ZarrVolume.Create(Store, Grid, [Looks[2] with { Index = 0 }], Results.Utm31, "made up");
        Assert.Equal(Sums(3).Real, less.Read(new TileIndex(1, 1), 0)!.Real);
        Assert.Single(Directory.GetFiles(Path.Combine(Store, "traces"), "?.?.?.?"));
    }

    [Fact]
    public void A_grid_grown_by_whole_tiles_keeps_its_tiles_under_new_numbers()
    {
        VoxelGrid grown = new(64 * 0.05 * 156_248, 64 * 0.05 * 1_800_305, 0.05, 300, 260, 7, 0.1), small = grown with { OriginEasting = 64 * 0.05 * 156_250, OriginNorthing = 64 * 0.05 * 1_800_306, CountX = 150, CountY = 100 };
        ZarrVolume volume = ZarrVolume.Create(Store, small, Looks, Results.Utm31, "made up");
        volume.WriteTile(new TileIndex(1, 0), 2, Sums(3));
        volume.WriteProbability(new TileIndex(1, 0), Probability());
        volume.MarkTile(new TileIndex(1, 0), "cd34");
        // What a run that was killed while moving left behind.
        Directory.CreateDirectory(Path.Combine(Store, "traces.tmp"));
        ZarrVolume more = ZarrVolume.Create(Store, grown, Looks, Results.Utm31, "made up");
        Assert.Equal(small.EastingAt(64), more.Grid.EastingAt(64 * 3));
        Assert.Equal(small.NorthingAt(7), more.Grid.NorthingAt(64 + 7));
        Assert.Equal(Sums(3).Real, more.Read(new TileIndex(3, 1), 2)!.Real);
        Assert.Equal(Probability(), more.ReadProbability(new TileIndex(3, 1)));
        Assert.Equal("cd34", more.TileFingerprint(new TileIndex(3, 1)));
        Assert.False(more.HasTile(new TileIndex(1, 0), 2));
        Assert.Equal(more.Grid, ZarrVolume.Open(Store).Grid);

        // Smaller again: what lies outside is gone, the rest where it was.
        ZarrVolume less = ZarrVolume.Create(Store, small with { OriginEasting = 64 * 0.05 * 156_251, CountX = 86 }, Looks, Results.Utm31, "made up");
        Assert.Equal("cd34", less.TileFingerprint(new TileIndex(0, 0)));
        Assert.Single(Directory.GetFiles(Path.Combine(Store, ".tiles")));
    }

    [Fact]
    public void Another_grid_starts_from_nothing()
    {
        Create().WriteTile(new TileIndex(1, 1), 2, Sums(3));
        ZarrVolume other = ZarrVolume.Create(Store, Grid with { OriginEasting = 500001.025 }, Looks, Results.Utm31, "made up");
        Assert.False(other.HasTile(new TileIndex(1, 1), 2));
        Assert.Empty(Directory.GetFiles(Path.Combine(Store, "traces"), "*.0.1.1"));
    }

    [Fact]
    public void The_same_volume_twice_gives_the_same_bytes_whatever_the_threads()
    {
        Fill(Create(), 1);
        ZarrVolume other = ZarrVolume.Create(_folder["other.zarr"], Grid, Looks, Results.Utm31, "made up");
        Fill(other, 4);
        Assert.Equal(ScratchFolder.Fingerprints(Store), ScratchFolder.Fingerprints(_folder["other.zarr"]));
    }

    [Fact]
    public void A_damaged_chunk_is_named()
    {
        ZarrVolume volume = Create();
        volume.WriteTile(new TileIndex(0, 0), 0, Sums(1));
        File.WriteAllBytes(Path.Combine(Store, "sum_real", "0.0.0.0"), [1, 2, 3, 4]);
        var e = Assert.Throws<SurveyException>(() => volume.Read(new TileIndex(0, 0), 0));
        Assert.Contains("sum_real", e.Message);
    }

    [Fact]
    public void A_chunk_cut_short_is_named()
    {
        ZarrVolume volume = Create();
        volume.WriteTile(new TileIndex(0, 0), 0, Sums(1));
        string path = Path.Combine(Store, "sum_real", "0.0.0.0");
        File.WriteAllBytes(path, File.ReadAllBytes(path)[..1000]);
        Assert.Contains("damaged", Assert.Throws<SurveyException>(() => volume.Read(new TileIndex(0, 0), 0)).Message);
    }

    [Fact]
    public void A_folder_of_something_else_is_left_alone()
    {
        Directory.CreateDirectory(Store);
        File.WriteAllText(Path.Combine(Store, "letter.txt"), "dear");
        Assert.Throws<SurveyException>(() => Create());
        Assert.Throws<SurveyException>(() => ZarrVolume.Open(Store));
        Assert.Equal("dear", File.ReadAllText(Path.Combine(Store, "letter.txt")));
    }

    [Fact]
    public void A_huge_grid_costs_only_what_was_seen()
    {
        var huge = new VoxelGrid(400000, 5700000, 0.05, 400_000, 400_000, 60, 0);
        ZarrVolume volume = ZarrVolume.Create(Store, huge, Looks, Results.Utm31, "made up");
        volume.WriteTile(new TileIndex(6000, 6249), 1, new LookSums(60));
        Assert.NotNull(volume.Read(new TileIndex(6000, 6249), 1));
        Assert.Null(volume.Read(new TileIndex(6000, 6248), 1));
        long bytes = Directory.GetFiles(Store, "*", SearchOption.AllDirectories).Sum(f => new FileInfo(f).Length);
        Assert.True(bytes < 5_000_000, $"{bytes} bytes");
    }

    [Fact]
    public void Xarray_reads_values_coordinates_and_reference_system()
    {
        ZarrVolume volume = Create();
        LookSums sums = Sums(5);
        float[] probability = Probability();
        volume.WriteTile(new TileIndex(2, 1), 1, sums);
        volume.WriteProbability(new TileIndex(2, 1), probability);
        volume.MarkTile(new TileIndex(2, 1), "ab12");

        using JsonDocument seen = JsonDocument.Parse(OutsideReader.RunPython(
            """
            import json, sys, xarray
            d = xarray.open_zarr(sys.argv[1], mask_and_scale=False)
            m = xarray.open_zarr(sys.argv[1])
            at = dict(look=1, burial=3, northing=64 + 11, easting=128 + 5)
            print(json.dumps(dict(
                dims=list(d.sum_real.dims), sizes=dict(d.sizes), easting=float(d.easting[133]), northing=float(d.northing[75]), burial=float(d.burial[3]),
                positive=d.burial.attrs['positive'], names=[str(n) for n in d.look_name.values], line=[int(n) for n in d.look_line.values],
                crs=d.crs.attrs['projected_crs_name'], mapping=d.sum_real.attrs['grid_mapping'], wkt=d.crs.attrs['spatial_ref'],
                real=float(d.sum_real.isel(at)), imaginary=float(d.sum_imaginary.isel(at)), squares=float(d.sum_of_squares.isel(at)), traces=int(d.traces.isel(at)),
                probability=float(d.probability.isel(burial=3, northing=75, easting=133)), coords=sorted(str(c) for c in d.sum_real.coords),
                absent=float(d.sum_real.isel(look=0).sum()), total=float(d.traces.sum()), masked=int(m.probability.notnull().sum()), conventions=d.attrs['Conventions'])))
            """, "xarray", Store));
        JsonElement r = seen.RootElement;
        int at = sums.ColumnStart(5, 11) + 3;

        Assert.Equal(["look", "burial", "northing", "easting"], r.GetProperty("dims").EnumerateArray().Select(e => e.GetString()));
        Assert.Equal(150, r.GetProperty("sizes").GetProperty("easting").GetInt32());
        Assert.Equal(Grid.EastingAt(133), r.GetProperty("easting").GetDouble());
        Assert.Equal(Grid.NorthingAt(75), r.GetProperty("northing").GetDouble());
        Assert.Equal(Grid.BurialAt(3), r.GetProperty("burial").GetDouble());
        Assert.Equal("down", r.GetProperty("positive").GetString());
        Assert.Equal(Looks.Select(l => l.Name), r.GetProperty("names").EnumerateArray().Select(e => e.GetString()));
        Assert.Equal(Looks.Select(l => l.Line), r.GetProperty("line").EnumerateArray().Select(e => e.GetInt32()));
        Assert.Equal("WGS 84 / UTM zone 31N", r.GetProperty("crs").GetString());
        Assert.Equal("crs", r.GetProperty("mapping").GetString());
        Assert.Equal(Results.Utm31.Wkt, r.GetProperty("wkt").GetString());
        Assert.Equal(sums.Real[at], (float)r.GetProperty("real").GetDouble());
        Assert.Equal(sums.Imaginary[at], (float)r.GetProperty("imaginary").GetDouble());
        Assert.Equal(sums.SumOfSquares[at], (float)r.GetProperty("squares").GetDouble());
        Assert.Equal(sums.Traces[at], r.GetProperty("traces").GetInt32());
        Assert.Equal(probability[at], (float)r.GetProperty("probability").GetDouble());
        Assert.Contains("look_name", r.GetProperty("coords").EnumerateArray().Select(e => e.GetString()));
        Assert.Equal(0, r.GetProperty("absent").GetDouble());
        Assert.Equal("CF-1.11", r.GetProperty("conventions").GetString());
        // The tile lies at the grid's corner: 22 columns by 36 rows of it are inside.
        double inside = (from iy in Enumerable.Range(0, 36) from ix in Enumerable.Range(0, 22) from iz in Enumerable.Range(0, 7) select (double)sums.Traces[sums.ColumnStart(ix, iy) + iz]).Sum();
        Assert.Equal(inside, r.GetProperty("total").GetDouble());
        Assert.Equal(22 * 36 * 7, r.GetProperty("masked").GetInt32());
    }

    [Fact]
    public void Gdal_reads_axes_and_reference_system()
    {
        ZarrVolume volume = Create();
        volume.WriteTile(new TileIndex(0, 0), 0, Sums(5));
        volume.MarkTile(new TileIndex(0, 0), "ab12");
        using JsonDocument info = JsonDocument.Parse(OutsideReader.RunTool("gdalmdiminfo", "gdal-bin", Store));
        JsonElement arrays = info.RootElement.GetProperty("arrays");
        foreach (string name in new[] { "sum_real", "sum_imaginary", "sum_of_squares", "traces", "probability" })
        {
            JsonElement srs = arrays.GetProperty(name).GetProperty("srs");
            Assert.Contains("32631", srs.GetProperty("wkt").GetString());
        }

        string dimensions = info.RootElement.GetProperty("dimensions").ToString();
        Assert.Contains("HORIZONTAL_X", dimensions);
        Assert.Contains("DOWN", dimensions);
    }

    // EPSG:3006 and 2193 list northings first.
    [Theory]
    [InlineData(32631)]
    [InlineData(3006)]
    [InlineData(2193)]
    public void Gdal_places_the_volume_whatever_order_the_register_has(int epsg)
    {
        Assert.True(ProjectedCrs.TryFromEpsg(epsg, out ProjectedCrs? crs));
        ZarrVolume.Create(Store, Grid, Looks, crs, "made up").WriteProbability(new TileIndex(0, 0), Probability());
        string[] said = OutsideReader.RunPython(
            """
            import sys
            from osgeo import gdal
            gdal.UseExceptions()
            d = gdal.Open('ZARR:"%s":/probability:0' % sys.argv[1])
            t = gdal.Warp('', d, format='MEM', dstSRS='EPSG:4326').GetGeoTransform()
            u = d.GetGeoTransform()
            print(d.GetSpatialRef().GetAuthorityCode(None), t[0], t[3], u[0], u[3], u[5] > 0)
            """, "osgeo", Store).Trim().Split(' ');
        // The warped picture is the rectangle around ours, in degrees: its north-western corner is within 3 m of ours.
        GeoPoint corner = crs.ToGeo(new GridPoint(Grid.EastingAt(-0.5), Grid.NorthingAt(99.5), 0));
        Assert.Equal(epsg.ToString(), said[0]);
        Assert.Equal(corner.Longitude, double.Parse(said[1]), 3e-5);
        Assert.Equal(corner.Latitude, double.Parse(said[2]), 3e-5);
        Assert.Equal(Grid.EastingAt(-0.5), double.Parse(said[3]), 1e-6);
        Assert.Equal(Grid.NorthingAt(-0.5), double.Parse(said[4]), 1e-6);
        Assert.Equal("True", said[5]);
    }

    [Fact]
    public void Gdal_reads_the_same_values()
    {
        ZarrVolume volume = Create();
        float[] probability = Probability();
        volume.WriteProbability(new TileIndex(0, 0), probability);
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo import gdal
            gdal.UseExceptions()
            a = gdal.OpenEx(sys.argv[1], gdal.OF_MULTIDIM_RASTER).GetRootGroup().OpenMDArray('probability')
            print(repr(float(a.ReadAsArray(array_start_idx=[3, 11, 5], count=[1, 1, 1])[0][0][0])))
            """, "osgeo", Store);
        Assert.Equal(probability[(11 * 64 + 5) * 7 + 3], (float)double.Parse(said));
    }

    private ZarrVolume Create() => ZarrVolume.Create(Store, Grid, Looks, Results.Utm31, "made up");

    private static void Fill(ZarrVolume volume, int threads) =>
        Parallel.ForEach(volume.Grid.Tiles().SelectMany(t => Looks.Select(l => (Tile: t, l.Index))), new ParallelOptions { MaxDegreeOfParallelism = threads }, job =>
        {
            volume.WriteTile(job.Tile, job.Index, Sums(job.Tile.X + 10 * job.Tile.Y + 100 * job.Index));
        });

    private static LookSums Sums(int seed)
    {
        var random = new Random(seed);
        var sums = new LookSums(Grid.CountZ);
        for (int i = 0; i < sums.Real.Length; i++)
            (sums.Real[i], sums.Imaginary[i], sums.SumOfSquares[i], sums.Traces[i]) = (random.NextSingle() - 0.5f, random.NextSingle(), random.NextSingle(), random.Next(1, 2000));
        return sums;
    }

    private static float[] Probability()
    {
        var random = new Random(7);
        return [.. Enumerable.Range(0, 64 * 64 * 7).Select(_ => random.NextSingle())];
    }
}
