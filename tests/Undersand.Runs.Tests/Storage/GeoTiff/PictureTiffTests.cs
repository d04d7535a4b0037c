using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoTiff;

namespace Undersand.Runs.Tests.Storage.GeoTiff;

/// <summary>Pictures that GDAL writes in all the usual ways come out as GDAL itself reads them.</summary>
public sealed class PictureTiffTests : IDisposable
{
    // Name, bands, creation options. The picture is 150 × 70 pixels, which is no whole number of tiles or strips.
    private const string Make = """
        import sys, random
        from osgeo import gdal, osr
        gdal.UseExceptions()
        folder = sys.argv[1]
        system = osr.SpatialReference(); system.ImportFromEPSG(32631)
        W, H = 150, 70
        kinds = {
          'grey-strips': (1, []), 'grey-lzw': (1, ['COMPRESS=LZW', 'PREDICTOR=2']), 'rgb-packbits': (3, ['COMPRESS=PACKBITS', 'BLOCKYSIZE=16']),
          'rgb-deflate-tiled': (3, ['COMPRESS=DEFLATE', 'TILED=YES', 'BLOCKXSIZE=64', 'BLOCKYSIZE=32', 'PREDICTOR=2']), 'rgba-tiled': (4, ['TILED=YES', 'BLOCKXSIZE=64', 'BLOCKYSIZE=64', 'COMPRESS=LZW']),
          'rgb-planes': (3, ['INTERLEAVE=BAND', 'COMPRESS=DEFLATE']), 'big-endian': (3, ['ENDIANNESS=BIG', 'COMPRESS=DEFLATE']), 'big-tiff': (3, ['BIGTIFF=YES', 'TILED=YES', 'COMPRESS=DEFLATE']),
          'grey-alpha': (2, ['ALPHA=YES', 'COMPRESS=DEFLATE', 'TILED=YES']), 'palette': (1, ['COMPRESS=LZW']), 'jpeg': (3, ['COMPRESS=JPEG', 'PHOTOMETRIC=YCBCR', 'TILED=YES', 'JPEG_QUALITY=95']), 'one-bit': (1, ['NBITS=1', 'COMPRESS=CCITTFAX4']),
        }
        for name, (bands, options) in kinds.items():
            d = gdal.GetDriverByName('GTiff').Create(f'{folder}/{name}.tif', W, H, bands, gdal.GDT_Byte, options)
            d.SetProjection(system.ExportToWkt()); d.SetGeoTransform([500000, 0.5, 0, 5760035, 0, -0.5])
            random.seed(7)
            if name == 'palette':
                colours = gdal.ColorTable()
                for i in range(256): colours.SetColorEntry(i, (i, 255 - i, i * 7 % 256, 255))
                d.GetRasterBand(1).SetColorTable(colours)
            smooth = name == 'jpeg'
            for b in range(bands):
                if name == 'one-bit': data = bytes((x // 9 + y // 5) % 2 for y in range(H) for x in range(W))
                elif name in ('rgba-tiled', 'grey-alpha') and b == bands - 1: data = bytes(0 if x < 20 else 255 for y in range(H) for x in range(W))
                elif smooth: data = bytes(min(255, x + y + 20 * b) for y in range(H) for x in range(W))
                else: data = bytes(random.randrange(256) for _ in range(W * H))
                d.GetRasterBand(b + 1).WriteRaster(0, 0, W, H, data)
            d = None
            # As GDAL reads it back, four bytes a pixel.
            d = gdal.Open(f'{folder}/{name}.tif')
            read = [d.GetRasterBand(b + 1).ReadRaster() for b in range(d.RasterCount)]
            table = d.GetRasterBand(1).GetColorTable() if name in ('palette',) else None
            out = bytearray()
            for i in range(W * H):
                if table: out += bytes(table.GetColorEntry(read[0][i]))
                elif name == 'one-bit': out += bytes([read[0][i] * 255] * 3 + [255])
                elif bands == 1: out += bytes([read[0][i]] * 3 + [255])
                elif bands == 2: out += bytes([read[0][i]] * 3 + [read[1][i]])
                elif bands == 3: out += bytes([read[0][i], read[1][i], read[2][i], 255])
                else: out += bytes(r[i] for r in read)
            # Under no opacity there is no colour.
            for i in range(W * H):
                if out[4 * i + 3] == 0: out[4 * i:4 * i + 3] = bytes(3)
            open(f'{folder}/{name}.raw', 'wb').write(out)
            print(name)
        """;

    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void What_gdal_writes_is_read_as_gdal_reads_it()
    {
        string[] names = OutsideReader.RunPython(Make, "osgeo", _folder.Path).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(12, names.Length);
        foreach (string name in names)
        {
            using PictureTiff picture = PictureTiff.Open(_folder[name + ".tif"], 32631);
            Assert.Equal((500000, 5760035, 500075, 5760000), (picture.West, picture.North, picture.East, picture.South));
            byte[] expected = File.ReadAllBytes(_folder[name + ".raw"]), found = Pixels(picture, 0);
            // JPEG decoders round differently, and draw coarse chroma in different ways.
            int worst = expected.Zip(found).Max(p => Math.Abs(p.First - p.Second));
            Assert.True(worst <= (name == "jpeg" ? 6 : 0), $"{name} differs by {worst}");
        }
    }

    [Fact]
    public void Overviews_are_found_and_what_stands_for_nothing_is_nothing()
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path);
        OutsideReader.RunTool("gdal_translate", "gdal-bin", "-q", "-a_nodata", "17", _folder["grey-strips.tif"], _folder["nothing.tif"]);
        OutsideReader.RunTool("gdaladdo", "gdal-bin", "-q", "-r", "average", _folder["rgb-deflate-tiled.tif"], "2", "4");
        using PictureTiff many = PictureTiff.Open(_folder["rgb-deflate-tiled.tif"], 32631), nothing = PictureTiff.Open(_folder["nothing.tif"], 32631);
        Assert.Equal([(150, 70), (75, 35), (38, 18)], many.Levels.Select(l => (l.Width, l.Height)));
        Assert.All(Pixels(many, 2).Where((_, i) => i % 4 == 3), alpha => Assert.Equal(255, alpha));
        byte[] grey = File.ReadAllBytes(_folder["grey-strips.raw"]), seen = Pixels(nothing, 0);
        Assert.Contains((byte)17, grey);
        for (int i = 0; i < grey.Length; i += 4)
            Assert.Equal(grey[i] == 17 ? 0 : 255, seen[i + 3]);
    }

    [Fact]
    public void What_can_not_be_laid_under_is_said_in_a_sentence_with_the_mend()
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path);
        void Gdal(string tool, params string[] words) => OutsideReader.RunTool(tool, "gdal-bin", ["-q", .. words]);
        Gdal("gdalwarp", "-t_srs", "EPSG:4326", _folder["rgb-planes.tif"], _folder["degrees.tif"]);
        Gdal("gdalwarp", "-t_srs", "EPSG:32632", _folder["rgb-planes.tif"], _folder["next-zone.tif"]);
        Gdal("gdal_translate", "-ot", "Float32", _folder["grey-strips.tif"], _folder["values.tif"]);
        Gdal("gdal_translate", "-co", "COMPRESS=ZSTD", _folder["grey-strips.tif"], _folder["zstd.tif"]);
        Gdal("gdal_translate", "-co", "PROFILE=BASELINE", _folder["grey-strips.tif"], _folder["placeless.tif"]);
        File.WriteAllBytes(_folder["half.tif"], File.ReadAllBytes(_folder["grey-strips.tif"])[..6000]);
        Assert.Equal($"{_folder["degrees.tif"]}: it is in EPSG:4326, and the survey is in EPSG:32631; warp it with “gdalwarp -t_srs EPSG:32631 degrees.tif base.tif”.", Refusal("degrees.tif"));
        Assert.Contains("it is in EPSG:32632", Refusal("next-zone.tif"));
        Assert.Contains("measured values, not a picture (1 bands of 32 bits); make a picture of it with “gdal_translate -ot Byte -scale values.tif", Refusal("values.tif"));
        Assert.Contains("TIFF compression 50000); write it anew with “gdal_translate", Refusal("zstd.tif"));
        Assert.Contains("doesn't say its reference system by an EPSG code", Refusal("placeless.tif"));
        Assert.Contains("it is cut off", Refusal("half.tif"));
        Assert.Contains("can't be read", Refusal("nowhere.tif"));
    }

    [Fact]
    public void Bytes_of_strangers_end_in_a_picture_or_a_sentence()
    {
        OutsideReader.RunPython(Make, "osgeo", _folder.Path);
        var random = new Random(11);
        int refused = 0, read = 0;
        foreach (string name in new[] { "grey-lzw", "rgb-deflate-tiled", "jpeg", "big-tiff", "one-bit" })
        {
            byte[] whole = File.ReadAllBytes(_folder[name + ".tif"]);
            for (int k = 0; k < 60; k++)
            {
                byte[] spoilt = [.. whole];
                // The directory lies in front or behind: half of the blows go to the first kilobyte, half anywhere.
                for (int blow = 0; blow < 4; blow++)
                    spoilt[random.Next(k % 2 == 0 ? Math.Min(1000, spoilt.Length) : spoilt.Length)] = (byte)random.Next(256);
                File.WriteAllBytes(_folder["spoilt.tif"], spoilt);
                try
                {
                    using PictureTiff picture = PictureTiff.Open(_folder["spoilt.tif"], 32631);
                    PictureLevel level = picture.Levels[0];
                    Assert.InRange(level.BlockWidth * (long)level.BlockHeight, 1, PictureTiff.MostBlockPixels);
                    Assert.Equal(level.BlockWidth * level.BlockHeight, picture.ReadBlock(0, 0, 0).Length);
                    read++;
                }
                catch (SurveyException refusal)
                {
                    Assert.Contains("spoilt.tif", refusal.Message);
                    refused++;
                }
            }
        }
        Assert.True(refused > 10 && read > 10, $"{refused} refused, {read} read");
    }

    private string Refusal(string name) => Assert.Throws<SurveyException>(() => PictureTiff.Open(_folder[name], 32631).Dispose()).Message;

    // Red, green, blue and opacity.
    private static byte[] Pixels(PictureTiff picture, int level)
    {
        PictureLevel l = picture.Levels[level];
        var bytes = new byte[4 * l.Width * l.Height];
        for (int y = 0; y < l.BlocksDown; y++)
            for (int x = 0; x < l.BlocksAcross; x++)
            {
                int[] block = picture.ReadBlock(level, x, y);
                for (int i = 0; i < block.Length; i++)
                {
                    int column = x * l.BlockWidth + i % l.BlockWidth, row = y * l.BlockHeight + i / l.BlockWidth, at = 4 * (row * l.Width + column);
                    if (column < l.Width && row < l.Height)
                        (bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]) = ((byte)block[i], (byte)(block[i] >> 8), (byte)(block[i] >> 16), (byte)(block[i] >> 24));
                }
            }
        return bytes;
    }
}
