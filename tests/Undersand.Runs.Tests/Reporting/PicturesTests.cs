using System.Buffers.Binary;
using System.IO.Compression;
using System.Xml.Linq;
using Undersand.Runs.Reporting;

namespace Undersand.Runs.Tests.Reporting;

public class PicturesTests
{
    [Fact]
    public void The_hot_cell_of_a_raster_is_the_hot_pixel_north_up()
    {
        var values = new float[20];
        Array.Fill(values, 0.1f);
        values[3 * 5 + 1] = 1; // column 1, row 3 of 4 from the south: the top row
        values[0] = float.NaN;
        (byte[] png, Extent extent) = Pixels.Map(new Raster(100, 200, 2, 5, 4, values), new(0, 0, 1000, 1000), ColourMap.Probability, 0, 1, greatest: true)!.Value;
        (int width, int height, byte[] indices) = Decode(png);
        Assert.Equal((5, 4), (width, height));
        Assert.Equal(new Extent(99, 199, 109, 207), extent);
        Assert.Equal(255, indices[1]);
        Assert.Equal(26, indices[0]);
        Assert.Equal(0, indices[3 * 5]);
    }

    [Fact]
    public void A_single_bright_cell_survives_on_a_map_far_too_small_for_it()
    {
        var values = new float[5000 * 3];
        values[5000 + 4321] = 1;
        (byte[] png, _) = Pixels.Map(new Raster(0, 0, 1, 5000, 3, values), new(-10, -10, 6000, 10), ColourMap.Probability, 0, 1, greatest: true)!.Value;
        (_, _, byte[] indices) = Decode(png);
        Assert.Single(indices, (byte)255);
    }

    [Fact]
    public void A_map_is_true_to_its_scale()
    {
        var frame = new MapFrame(new(433_000, 5_817_000, 433_060, 5_817_030), 32631);
        Spot a = frame.At(433_010, 5_817_010), b = frame.At(433_020, 5_817_010), c = frame.At(433_010, 5_817_020);
        Assert.Equal(10_000 / frame.Denominator, b.X - a.X, 1e-9);
        Assert.Equal(10_000 / frame.Denominator, a.Y - c.Y, 1e-9);
        Assert.True(frame.Extent.Holds(433_000, 5_817_000) && frame.Extent.Holds(433_060, 5_817_030));
        Assert.Equal((433_010.0, 5_817_010.0), frame.Ground(a));
    }

    [Fact]
    public void An_ellipse_points_where_its_azimuth_says()
    {
        // Azimuth 90° is east: the long axis lies along x. 45° is north-east: right and up, and up is less y.
        Assert.Equal(3, Spot.Ellipse(0, 0, 3, 1, Math.PI / 2).Max(s => s.X), 1e-9);
        Spot tip = Spot.Ellipse(0, 0, 3, 1, Math.PI / 4).MaxBy(s => s.X * s.X + s.Y * s.Y);
        Assert.True(tip.X * tip.Y < 0);
    }

    [Fact]
    public void Unseen_is_told_from_unsurveyed_and_from_seen_by_texture()
    {
        var raster = new Raster(0, 0, 1, 3, 1, [float.NaN, 0, 1.5f]);
        Assert.Equal([Ground.NotSurveyed, Ground.Blind, Ground.Seen, Ground.NotSurveyed], ((double[])[0, 1, 2, 7]).Select(e => Texture.At(raster, e, 0)));
        Assert.Equal([1, 1, 0], ((Ground[])[Ground.NotSurveyed, Ground.Blind, Ground.Seen]).Select(g =>
        {
            var drawing = new Drawing(20, 20);
            Texture.Fill(drawing, new(0, 0, 20, 20), _ => g);
            return drawing.Marks.Count;
        }));
    }

    [Fact]
    public void Standalone_maps_are_well_formed()
    {
        SurveyResult result = ReportScenes.Unkind();
        foreach (Drawing map in (Drawing[])[SurveyMaps.Overview(result), SurveyMaps.Probability(result), SurveyMaps.CouldHaveSeen(result), SurveyMaps.Seabed(result)])
            Assert.Equal("svg", XDocument.Parse(map.ToSvg(result.Survey.Name)).Root!.Name.LocalName);
    }

    [Fact]
    public void Colour_maps_have_their_published_ends()
    {
        // cividis: Matplotlib 3.6.3, _cm_listed.py, first and last rows of _cividis_data; batlow: first and last rows of
        // batlow.txt, vik: last row of vik.txt, Scientific colour maps 8.0, times 255.
        Assert.Equal(((byte)0x00, (byte)0x22, (byte)0x4e), ColourMap.Probability[0]);
        Assert.Equal(((byte)0xfe, (byte)0xe8, (byte)0x38), ColourMap.Probability[255]);
        Assert.Equal(((byte)1, (byte)25, (byte)89), ColourMap.Burial[0]);
        Assert.Equal(((byte)250, (byte)204, (byte)250), ColourMap.Burial[255]);
        Assert.Equal(((byte)89, (byte)0, (byte)8), ColourMap.Coherence[255]);
    }

    [Fact]
    public void Colour_maps_of_one_direction_never_turn_back_in_lightness()
    {
        foreach (ColourMap map in (ColourMap[])[ColourMap.Probability, ColourMap.Burial, ColourMap.Depth, ColourMap.Amplitude, ColourMap.Coherence])
        {
            double[] light = [.. Enumerable.Range(0, 256).Select(i => Lightness(map[i]))];
            double sign = Math.Sign(light[255] - light[0]);
            Assert.All(light.Zip(light.Skip(1)), p => Assert.True(sign * (p.Second - p.First) > -0.6, map.Name));
        }
    }

    [Fact]
    public void Text_is_broken_so_that_it_fits()
    {
        string text = "Εδώ и тут a " + new string('w', 300) + " tail of words that goes on and on";
        List<string> lines = TextLines.Break(text, 9, false, 40, first: 12);
        Assert.All(lines, l => Assert.True(Typeface.Regular.Width(l, 9) <= 40.001));
        Assert.True(Typeface.Regular.Width(lines[0], 9) <= 28.001);
        Assert.Equal(text.Replace(" ", "", StringComparison.Ordinal), string.Concat(lines).Replace(" ", "", StringComparison.Ordinal));
    }

    [Fact]
    public void Inks_can_be_read_by_day_and_by_night()
    {
        // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
        foreach (Ink ink in (Ink[])[Ink.Text, Ink.Soft, Ink.Track, Ink.Target, Ink.Danger])
            foreach (Ink ground in (Ink[])[Ink.Paper, Ink.Shade, Ink.DangerShade])
            {
                Assert.True(Contrast(Tokens.Inks[ink].Day, Tokens.Inks[ground].Day) >= 4.5, $"{ink} on {ground} by day");
                Assert.True(Contrast(Tokens.Inks[ink].Night, Tokens.Inks[ground].Night) >= 4.5, $"{ink} on {ground} by night");
            }
    }

    private static double Contrast(string a, string b)
    {
        double la = Luminance(Rgb(a)), lb = Luminance(Rgb(b));
        return (Math.Max(la, lb) + 0.05) / (Math.Min(la, lb) + 0.05);
    }

    private static (byte, byte, byte) Rgb(string hex) => (Convert.ToByte(hex[1..3], 16), Convert.ToByte(hex[3..5], 16), Convert.ToByte(hex[5..7], 16));

    private static double Luminance((byte R, byte G, byte B) c) => 0.2126 * Linear(c.R) + 0.7152 * Linear(c.G) + 0.0722 * Linear(c.B);

    private static double Linear(byte v) => v / 255.0 <= 0.04045 ? v / 255.0 / 12.92 : Math.Pow((v / 255.0 + 0.055) / 1.055, 2.4);

    private static double Lightness((byte, byte, byte) c)
    {
        double y = Luminance(c);
        return y > 216.0 / 24389 ? 116 * Math.Cbrt(y) - 16 : 24389.0 / 27 * y;
    }

    private static (int Width, int Height, byte[] Indices) Decode(byte[] png)
    {
        int width = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)), height = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20));
        int at = 8;
        while (png[at + 4] != 'I' || png[at + 5] != 'D')
            at += 12 + BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at));
        using var zlib = new ZLibStream(new MemoryStream(png, at + 8, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at))), CompressionMode.Decompress);
        var rows = new byte[height * (width + 1)];
        zlib.ReadExactly(rows);
        var indices = new byte[width * height];
        for (int y = 0; y < height; y++)
            rows.AsSpan(y * (width + 1) + 1, width).CopyTo(indices.AsSpan(y * width));
        return (width, height, indices);
    }
}
