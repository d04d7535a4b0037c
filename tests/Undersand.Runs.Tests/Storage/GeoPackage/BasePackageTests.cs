using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoPackage;

namespace Undersand.Runs.Tests.Storage.GeoPackage;

/// <summary>GeoPackages that GDAL writes, as base maps.</summary>
public sealed class BasePackageTests : IDisposable
{
    private const string Make = """
        import sys
        from osgeo import gdal, ogr, osr
        gdal.UseExceptions()
        folder, code = sys.argv[1], int(sys.argv[2])
        system = osr.SpatialReference(); system.ImportFromEPSG(code)
        d = gdal.GetDriverByName('MEM').Create('', 600, 400, 3, gdal.GDT_Byte)
        d.SetProjection(system.ExportToWkt()); d.SetGeoTransform([500000, 0.5, 0, 5760200, 0, -0.5])
        for b in range(3): d.GetRasterBand(b + 1).WriteRaster(0, 0, 600, 400, bytes((x * (b + 1) + y) % 256 for y in range(400) for x in range(600)))
        for kind in ('PNG', 'JPEG', 'WEBP'):
            gdal.GetDriverByName('GPKG').CreateCopy(f'{folder}/{kind}.gpkg', d, options=[f'TILE_FORMAT={kind}', 'RASTER_TABLE=chart'])
            o = gdal.Open(f'{folder}/{kind}.gpkg', gdal.GA_Update); o.BuildOverviews('AVERAGE', [2]); o = None
        v = ogr.GetDriverByName('GPKG').CreateDataSource(f'{folder}/shapes.gpkg')
        l = v.CreateLayer('harbour', system, ogr.wkbUnknown)
        for wkt in ('POINT (1 2)', 'POINT Z (3 4 5)', 'LINESTRING (0 0,1 1,2 0)', 'MULTILINESTRING ((0 0,1 1),(5 5,6 6,7 7))', 'POLYGON ((0 0,9 0,9 9,0 0),(1 1,2 1,2 2,1 1))', 'MULTIPOLYGON Z (((0 0 1,9 0 1,9 9 1,0 0 1)))', 'GEOMETRYCOLLECTION (POINT (8 8),LINESTRING (0 0,4 4))', 'POINT EMPTY'):
            f = ogr.Feature(l.GetLayerDefn()); f.SetGeometry(ogr.CreateGeometryFromWkt(wkt)); l.CreateFeature(f)
        """;

    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("PNG", "image/png")]
    [InlineData("JPEG", "image/jpeg")]
    [InlineData("WEBP", "image/webp")]
    public void Tiles_are_passed_on_as_they_are(string kind, string type)
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path, "32631");
        BasePackage package = BasePackage.Open(_folder[kind + ".gpkg"], 32631);
        TileTable table = Assert.Single(package.Tiles);
        Assert.Equal(("chart", 500000, 5760200), (table.Name, table.West, table.North));
        // GDAL names a third, coarser level, and puts no tile into it.
        Assert.Equal([(1.0, 256), (0.5, 256)], table.Levels.Select(l => (l.PixelWidth, l.TileWidth)));
        var tile = package.Tile(table, 1, 1, 0);
        Assert.Equal(type, tile?.Type);
        string hex = OutsideReader.RunPython("import sys, sqlite3; print(sqlite3.connect(sys.argv[1]).execute('SELECT hex(tile_data) FROM chart WHERE zoom_level=2 AND tile_column=1 AND tile_row=0').fetchone()[0])", "sqlite3", _folder[kind + ".gpkg"]);
        Assert.Equal(hex.Trim(), Convert.ToHexString(tile!.Value.Bytes));
        Assert.Null(package.Tile(table, 1, 99, 0));
        Assert.Null(package.Tile(table, 2, 0, 0));
    }

    [Fact]
    public void Features_come_as_their_points_whatever_kind_they_are()
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path, "32631");
        FeatureTable table = Assert.Single(BasePackage.Open(_folder["shapes.gpkg"], 32631).Features);
        Assert.Equal("harbour", table.Name);
        Assert.Equal([1, 1, 3, 2, 3, 4, 4, 4, 1, 2], table.Shapes.Select(s => s.Points.Count));
        Assert.Equal((3, 4), table.Shapes[1].Points[0]);
        Assert.Equal([false, false, false, false, false, true, true, true, false, false], table.Shapes.Select(s => s.IsRing));
        Assert.Equal((9, 9), table.Shapes[7].Points[2]);
    }

    [Fact]
    public void Another_reference_system_is_refused_with_the_mend_for_its_kind()
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path, "25831");
        string Refusal(string name) => Assert.Throws<SurveyException>(() => BasePackage.Open(_folder[name], 32631)).Message;
        Assert.Equal($"{_folder["PNG.gpkg"]}, chart: it is in EPSG:25831, and the survey is in EPSG:32631; warp it with “gdalwarp -t_srs EPSG:32631 PNG.gpkg base.tif”.", Refusal("PNG.gpkg"));
        Assert.EndsWith("convert it with “ogr2ogr -t_srs EPSG:32631 base.gpkg shapes.gpkg”.", Refusal("shapes.gpkg"));
    }

    [Fact]
    public void A_damaged_package_is_a_sentence()
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path, "32631");
        byte[] whole = File.ReadAllBytes(_folder["shapes.gpkg"]);
        var random = new Random(5);
        int refused = 0;
        for (int k = 0; k < 60; k++)
        {
            byte[] spoilt = [.. k % 3 == 0 ? whole[..random.Next(whole.Length)] : whole];
            for (int blow = 0; blow < 40 && spoilt.Length > 0; blow++)
                spoilt[random.Next(spoilt.Length)] = (byte)random.Next(256);
            File.WriteAllBytes(_folder["spoilt.gpkg"], spoilt);
            try
            {
                BasePackage.Open(_folder["spoilt.gpkg"], 32631);
            }
            catch (SurveyException refusal)
            {
                Assert.Contains("spoilt.gpkg", refusal.Message);
                refused++;
            }
        }
        Assert.InRange(refused, 10, 60);
    }

    // GeoPackage 1.3, clause 2.1.3, with counts that the bytes don't hold.
    [Theory]
    [InlineData("4750000100000000" + "01" + "02000000" + "FFFFFFFF")]
    [InlineData("4750000100000000" + "01" + "03000000" + "00000040" + "01000000")]
    [InlineData("4750000100000000" + "01" + "0F000000" + "00000000")]
    [InlineData("4750000100000000")]
    public void Sizes_in_a_geometry_are_not_trusted(string hex) => Assert.Throws<InvalidDataException>(() => GeometryReader.Shapes(Convert.FromHexString(hex)));
}
