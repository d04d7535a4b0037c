namespace Undersand.Runs.Reporting;

/// <summary>Turns numbers on a grid into a picture.</summary>
internal static class Pixels
{
    private const int Most = 1400;

    /// <summary>The part of a raster that lies in an extent, north up; what isn't data, or is left out, is transparent.</summary>
    /// <param name="raster">The numbers.</param>
    /// <param name="wanted">What part.</param>
    /// <param name="map">Colours.</param>
    /// <param name="low">Value of the first colour.</param>
    /// <param name="high">Value of the last.</param>
    /// <param name="greatest">Whether many values under one pixel give way to their greatest (else their mean).</param>
    /// <param name="above">Values not above this are left out.</param>
    public static (byte[] Png, Extent Extent)? Map(Raster raster, Extent wanted, ColourMap map, double low, double high, bool greatest, double above = double.NegativeInfinity)
    {
        Extent data = Extent.OfData(raster);
        if (data.IsEmpty)
            return null;
        double s = raster.Spacing;
        int x0 = Column(Math.Max(data.West, wanted.West)), x1 = Column(Math.Min(data.East, wanted.East) - 1e-9 * s);
        int y0 = Row(Math.Max(data.South, wanted.South)), y1 = Row(Math.Min(data.North, wanted.North) - 1e-9 * s);
        if (x1 < x0 || y1 < y0)
            return null;
        int block = (Math.Max(x1 - x0, y1 - y0) + Most) / Most;
        int width = (x1 - x0 + block) / block, height = (y1 - y0 + block) / block;
        var indices = new byte[width * height];
        for (int py = 0; py < height; py++)
            for (int px = 0; px < width; px++)
            {
                double value = Block(raster, x0 + px * block, y0 + py * block, block, greatest);
                if (value > above)
                    indices[(height - 1 - py) * width + px] = (byte)Math.Max(1, ColourMap.IndexOf(value, low, high));
            }
        var extent = new Extent(raster.OriginEasting + (x0 - 0.5) * s, raster.OriginNorthing + (y0 - 0.5) * s, raster.OriginEasting + (x0 + width * block - 0.5) * s, raster.OriginNorthing + (y0 + height * block - 0.5) * s);
        return (Png.Encode(width, height, indices, map), extent);

        int Column(double e) => Math.Clamp((int)Math.Floor((e - raster.OriginEasting) / s + 0.5), 0, raster.CountX - 1);
        int Row(double n) => Math.Clamp((int)Math.Floor((n - raster.OriginNorthing) / s + 0.5), 0, raster.CountY - 1);
    }

    /// <summary>A section, burial downwards.</summary>
    public static byte[] Section(Section section, ColourMap map, double low, double high)
    {
        var indices = new byte[section.Count * section.BurialCount];
        for (int i = 0; i < section.Count; i++)
            for (int k = 0; k < section.BurialCount; k++)
            {
                float value = section.Values[i * section.BurialCount + k];
                if (float.IsFinite(value))
                    indices[k * section.Count + i] = (byte)Math.Max(1, ColourMap.IndexOf(value, low, high));
            }
        return Png.Encode(section.Count, section.BurialCount, indices, map);
    }

    /// <summary>A colour bar of one column, low values at the bottom, or at the top.</summary>
    /// <remarks>
    /// Each map's bar has its own width in pixels: PDFsharp 6.2.4 takes two pictures for one where size and indices agree and only the
    /// palette differs.
    /// </remarks>
    public static byte[] Bar(ColourMap map, bool downwards)
    {
        int width = 1 + ColourMap.All.Index().First(m => m.Item == map).Index;
        var indices = new byte[255 * width];
        for (int i = 0; i < indices.Length; i++)
            indices[i] = (byte)(downwards ? 1 + i / width : 255 - i / width);
        return Png.Encode(width, 255, indices, map);
    }

    private static double Block(Raster raster, int x0, int y0, int block, bool greatest)
    {
        double sum = 0, most = double.NegativeInfinity;
        int n = 0;
        for (int y = y0; y < Math.Min(y0 + block, raster.CountY); y++)
            for (int x = x0; x < Math.Min(x0 + block, raster.CountX); x++)
            {
                float value = raster.Values[y * raster.CountX + x];
                if (!float.IsFinite(value))
                    continue;
                sum += value;
                most = Math.Max(most, value);
                n++;
            }
        return n == 0 ? double.NaN : greatest ? most : sum / n;
    }
}
