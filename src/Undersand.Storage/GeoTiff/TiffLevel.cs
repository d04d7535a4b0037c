using System.Buffers.Binary;

namespace Undersand.Storage.GeoTiff;

/// <summary>One resolution of a map, rows from the north, and where its tiles went in the file.</summary>
internal sealed class TiffLevel
{
    public const int TileSize = 256;
    public const int TileBytes = 4 * TileSize * TileSize;
    private readonly float[] _values;
    private readonly bool _fromSouth;

    private TiffLevel(int width, int height, float[] values, bool fromSouth)
    {
        (Width, Height, _values, _fromSouth) = (width, height, values, fromSouth);
        Offsets = new uint[TilesAcross * TilesDown];
        ByteCounts = new uint[Offsets.Length];
    }

    public int Width { get; }

    public int Height { get; }

    public int TilesAcross => (Width + TileSize - 1) / TileSize;

    public int TilesDown => (Height + TileSize - 1) / TileSize;

    public uint[] Offsets { get; }

    public uint[] ByteCounts { get; }

    /// <summary>The full resolution, then overviews by two until one fits a tile.</summary>
    public static IReadOnlyList<TiffLevel> Pyramid(Raster raster, OverviewRule rule)
    {
        var levels = new List<TiffLevel> { new(raster.CountX, raster.CountY, raster.Values, fromSouth: true) };
        while (levels[^1].Width > TileSize || levels[^1].Height > TileSize)
            levels.Add(levels[^1].Half(rule));
        return levels;
    }

    /// <summary>Copies a tile, little-endian; beyond the edge there is no data.</summary>
    public void CopyTile(int tx, int ty, Span<byte> bytes)
    {
        for (int row = 0, at = 0; row < TileSize; row++)
            for (int column = 0; column < TileSize; column++, at += 4)
                BinaryPrimitives.WriteSingleLittleEndian(bytes[at..], At(tx * TileSize + column, ty * TileSize + row));
    }

    private float At(int x, int y)
    {
        if (x >= Width || y >= Height)
            return float.NaN;
        float value = _values[(_fromSouth ? Height - 1 - y : y) * Width + x];
        return float.IsNaN(value) ? float.NaN : value;
    }

    private TiffLevel Half(OverviewRule rule)
    {
        int width = (Width + 1) / 2, height = (Height + 1) / 2;
        float[] values = new float[width * height];
        for (int y = 0; y < height; y++)
            for (int x = 0; x < width; x++)
                values[y * width + x] = Combine(rule, At(2 * x, 2 * y), At(2 * x + 1, 2 * y), At(2 * x, 2 * y + 1), At(2 * x + 1, 2 * y + 1));
        return new TiffLevel(width, height, values, fromSouth: false);
    }

    private static float Combine(OverviewRule rule, params ReadOnlySpan<float> four)
    {
        double sum = 0, greatest = double.NegativeInfinity;
        int count = 0;
        foreach (float value in four)
        {
            if (float.IsNaN(value))
                continue;
            sum += value;
            greatest = Math.Max(greatest, value);
            count++;
        }

        return count == 0 ? float.NaN : (float)(rule == OverviewRule.Mean ? sum / count : greatest);
    }
}
