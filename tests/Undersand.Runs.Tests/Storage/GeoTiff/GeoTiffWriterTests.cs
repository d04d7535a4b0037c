using System.Text.Json;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoTiff;

namespace Undersand.Runs.Tests.Storage.GeoTiff;

public sealed class GeoTiffWriterTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(700, 530)]
    [InlineData(256, 256)]
    [InlineData(257, 100)]
    [InlineData(3, 2)]
    [InlineData(1, 1)]
    public void Gdal_calls_it_cloud_optimised(int countX, int countY)
    {
        Write("map.tif", Ramp(countX, countY));
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo_utils.samples import validate_cloud_optimized_geotiff as v
            warnings, errors, details = v.validate(sys.argv[1], full_check=True)
            print(warnings, errors)
            """, "osgeo", _folder["map.tif"]);
        Assert.Equal("[] []", said.Trim());
    }

    [Fact]
    public void Gdal_reads_place_values_unit_and_no_data()
    {
        Raster raster = Ramp(700, 530);
        Write("map.tif", raster);
        using JsonDocument read = JsonDocument.Parse(OutsideReader.RunPython(
            """
            import json, sys
            from osgeo import gdal
            d = gdal.Open(sys.argv[1]); b = d.GetRasterBand(1); a = b.ReadAsArray()
            s = d.GetSpatialRef()
            print(json.dumps(dict(transform=d.GetGeoTransform(), epsg=s.GetAuthorityCode(None), unit=b.GetUnitType(), description=b.GetDescription(),
                nodata=str(b.GetNoDataValue()), north_west=float(a[0, 0]), south_east=float(a[-1, -1]), hole=str(float(a[529 - 20, 10])),
                total=float(a[~(a != a)].astype('f8').sum()), overviews=[[b.GetOverview(i).XSize, b.GetOverview(i).YSize] for i in range(b.GetOverviewCount())],
                structure=d.GetMetadata('IMAGE_STRUCTURE'), area=d.GetMetadataItem('AREA_OR_POINT'))))
            """, "osgeo", _folder["map.tif"]));
        JsonElement r = read.RootElement;

        Assert.Equal([500000, 0.05, 0, 5761000, 0, -0.05], r.GetProperty("transform").EnumerateArray().Select(e => Math.Round(e.GetDouble(), 9)));
        Assert.Equal("32631", r.GetProperty("epsg").GetString());
        Assert.Equal("m", r.GetProperty("unit").GetString());
        Assert.Equal("burial & so on", r.GetProperty("description").GetString());
        Assert.Equal("nan", r.GetProperty("nodata").GetString());
        Assert.Equal(raster.Values[529 * 700], (float)r.GetProperty("north_west").GetDouble());
        Assert.Equal(raster.Values[699], (float)r.GetProperty("south_east").GetDouble());
        Assert.Equal("nan", r.GetProperty("hole").GetString());
        Assert.Equal(raster.Values.Where(v => !float.IsNaN(v)).Sum(v => (double)v), r.GetProperty("total").GetDouble(), 1e-3);
        Assert.Equal("[[350, 265], [175, 133]]", r.GetProperty("overviews").ToString());
        Assert.Equal("COG", r.GetProperty("structure").GetProperty("LAYOUT").GetString());
        Assert.Equal("Area", r.GetProperty("area").GetString());
    }

    // Check FO-14: keys and tags of a 0.05 m grid in EPSG:32631 with its upper left corner at 500000, 5761000, from a GDAL 3.6.2 file.
    [Fact]
    public void Keys_and_tags_are_those_of_the_check_value()
    {
        Write("map.tif", Ramp(300, 200));
        var tags = FirstDirectory(File.ReadAllBytes(_folder["map.tif"]));
        Assert.Equal([0.05, 0.05, 0], tags[33550].Doubles());
        double[] tie = tags[33922].Doubles();
        Assert.Equal([0, 0, 0, 500000, 5761000, 0], tie.Select(v => Math.Round(v, 9)));
        ushort[] keys = tags[34735].Shorts();
        Assert.Equal([1, 1, 1, 5], keys[..4]);
        var values = keys[4..].Chunk(4).Where(k => k[1] == 0).ToDictionary(k => (int)k[0], k => (int)k[3]);
        Assert.Equal(new Dictionary<int, int> { [1024] = 1, [1025] = 1, [3072] = 32631, [3076] = 9001 }, values);
    }

    [Fact]
    public void An_overview_leaves_out_what_has_no_data()
    {
        Write("map.tif", Results.Map(400, 300, (x, y) => x % 2 == 0 ? float.NaN : y % 2 == 0 ? 1 : 3));
        Assert.Equal("2.0 2.0", Overview("map.tif"));
    }

    [Fact]
    public void The_greatest_survives_in_an_overview_where_asked()
    {
        GeoTiffWriter.WriteCloudOptimised(_folder["map.tif"], Results.Map(400, 300, (x, y) => x == 101 && y == 33 ? 0.9f : 0.1f), Results.Utm31, "probability", "", OverviewRule.Greatest);
        Assert.Equal("0.1 0.9", Overview("map.tif"));
    }

    [Fact]
    public void The_same_map_twice_gives_the_same_bytes()
    {
        Write("a.tif", Ramp(700, 530));
        Write("b.tif", Ramp(700, 530));
        Assert.Equal(File.ReadAllBytes(_folder["a.tif"]), File.ReadAllBytes(_folder["b.tif"]));
    }

    private string Overview(string name) => OutsideReader.RunPython(
        """
        import sys
        from osgeo import gdal
        d = gdal.Open(sys.argv[1])
        a = d.GetRasterBand(1).GetOverview(0).ReadAsArray()
        print(round(float(a.min()), 4), round(float(a.max()), 4))
        """, "osgeo", _folder[name]).Trim();

    private void Write(string name, Raster raster) => GeoTiffWriter.WriteCloudOptimised(_folder[name], raster, Results.Utm31, "burial & so on", "m");

    private static Raster Ramp(int countX, int countY) => Results.Map(countX, countY, (x, y) => x == 10 && y == 20 ? float.NaN : x + 1000 * y);

    private static Dictionary<int, byte[]> FirstDirectory(byte[] file)
    {
        int at = BitConverter.ToInt32(file, 4), count = BitConverter.ToUInt16(file, at);
        var tags = new Dictionary<int, byte[]>();
        for (int i = 0; i < count; i++)
        {
            int entry = at + 2 + 12 * i, type = BitConverter.ToUInt16(file, entry + 2);
            int bytes = BitConverter.ToInt32(file, entry + 4) * type switch { 3 => 2, 4 => 4, 12 => 8, _ => 1 };
            int where = bytes <= 4 ? entry + 8 : BitConverter.ToInt32(file, entry + 8);
            tags[BitConverter.ToUInt16(file, entry)] = file[where..(where + bytes)];
        }

        return tags;
    }
}

file static class Bytes
{
    public static double[] Doubles(this byte[] bytes) => [.. bytes.Chunk(8).Select(b => BitConverter.ToDouble(b))];

    public static ushort[] Shorts(this byte[] bytes) => [.. bytes.Chunk(2).Select(b => BitConverter.ToUInt16(b))];
}
