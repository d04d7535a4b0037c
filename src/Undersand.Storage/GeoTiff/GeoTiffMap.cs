using System.Buffers.Binary;
using System.IO.Compression;

namespace Undersand.Storage.GeoTiff;

/// <summary>A map written by <see cref="GeoTiffWriter"/>, read tile by tile, never as a whole. Members may be called from several threads.</summary>
/// <remarks>Reads what that writer writes and refuses everything else: little-endian, one band of 32-bit floats, tiles of 256, DEFLATE (TIFF 6.0, GeoTIFF 1.1).</remarks>
public sealed class GeoTiffMap
{
    /// <summary>Columns and rows of a tile.</summary>
    public const int TileSize = TiffLevel.TileSize;

    private readonly string _path;

    private GeoTiffMap(string path, IReadOnlyList<GeoTiffLevel> levels, string description, double west, double north, double spacing)
    {
        _path = path;
        (Levels, Description, West, North, Spacing) = (levels, description, west, north, spacing);
    }

    /// <summary>The full resolution, then overviews, each half the one before.</summary>
    public IReadOnlyList<GeoTiffLevel> Levels { get; }

    /// <summary>What the values are, one sentence.</summary>
    public string Description { get; }

    /// <summary>Easting of the map's left edge.</summary>
    public double West { get; }

    /// <summary>Northing of the map's upper edge.</summary>
    public double North { get; }

    /// <summary>Metres between values at full resolution.</summary>
    public double Spacing { get; }

    /// <summary>Easting of the map's right edge.</summary>
    public double East => West + Levels[0].Width * Spacing;

    /// <summary>Northing of the map's lower edge.</summary>
    public double South => North - Levels[0].Height * Spacing;

    /// <summary>Reads the directories.</summary>
    /// <exception cref="SurveyException">The file is missing, or not one of ours.</exception>
    public static GeoTiffMap Open(string path)
    {
        try
        {
            using FileStream file = File.OpenRead(path);
            IReadOnlyList<TiffTags> pictures = TiffTags.Read(file);
            if (GeoTiffFrame.Of(pictures[0]) is not { } frame || pictures.Any(p => p.IsBigEndian || p.Whole(258, 0) != 32 || p.Whole(259, 0) != 8 || p.Whole(322, 0) != TileSize || p.Whole(339, 0) != 3))
                throw new InvalidDataException("its layout is not ours");
            GeoTiffLevel[] levels = [.. pictures.Select(p => new GeoTiffLevel((int)p.Whole(256, 0), (int)p.Whole(257, 0), p.Wholes(324)))];
            if (levels.Any(l => l.Offsets.Count != l.TilesAcross * l.TilesDown))
                throw new InvalidDataException("a directory is damaged");
            return new GeoTiffMap(path, levels, pictures[0].Text(270), frame.West, frame.North, frame.Across);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            throw new SurveyException(path, null, $"this map is missing or not one of ours ({e.Message.TrimEnd('.')})", "process the survey again", e);
        }
    }

    /// <summary>The value at a place; NaN outside or where there is no data.</summary>
    /// <param name="easting">Metres.</param>
    /// <param name="northing">Metres.</param>
    /// <param name="level">Index in <see cref="Levels"/>.</param>
    /// <param name="tile">Gives a tile by level and place; null reads it from the file.</param>
    public float ValueAt(double easting, double northing, int level = 0, Func<int, int, int, float[]>? tile = null)
    {
        double spacing = Spacing * (1 << level);
        int x = (int)Math.Floor((easting - West) / spacing), y = (int)Math.Floor((North - northing) / spacing);
        if (x < 0 || y < 0 || x >= Levels[level].Width || y >= Levels[level].Height)
            return float.NaN;
        return (tile ?? ReadTile)(level, x / TileSize, y / TileSize)[y % TileSize * TileSize + x % TileSize];
    }

    /// <summary>The values of a tile, row by row from the north; NaN where there is no data or the tile lies outside.</summary>
    /// <param name="level">Index in <see cref="Levels"/>.</param>
    /// <param name="x">Eastwards, from 0.</param>
    /// <param name="y">Southwards, from 0.</param>
    public float[] ReadTile(int level, int x, int y)
    {
        var values = new float[TileSize * TileSize];
        GeoTiffLevel l = Levels[level];
        if (x < 0 || y < 0 || x >= l.TilesAcross || y >= l.TilesDown)
        {
            Array.Fill(values, float.NaN);
            return values;
        }
        int i = y * l.TilesAcross + x;
        using FileStream file = File.OpenRead(_path);
        file.Position = l.Offsets[i];
        using var packed = new ZLibStream(file, CompressionMode.Decompress);
        byte[] bytes = new byte[TiffLevel.TileBytes];
        packed.ReadExactly(bytes);
        for (int k = 0; k < values.Length; k++)
            values[k] = BinaryPrimitives.ReadSingleLittleEndian(bytes.AsSpan(4 * k));
        return values;
    }

    /// <summary>The whole map at full resolution; its origin is the middle of the first value, as rasters have it.</summary>
    public Raster ReadWhole()
    {
        GeoTiffLevel level = Levels[0];
        var values = new float[level.Width * level.Height];
        for (int ty = 0; ty < level.TilesDown; ty++)
            for (int tx = 0; tx < level.TilesAcross; tx++)
            {
                float[] tile = ReadTile(0, tx, ty);
                int wide = Math.Min(TileSize, level.Width - tx * TileSize);
                for (int y = ty * TileSize; y < Math.Min((ty + 1) * TileSize, level.Height); y++)
                    tile.AsSpan((y - ty * TileSize) * TileSize, wide).CopyTo(values.AsSpan((level.Height - 1 - y) * level.Width + tx * TileSize));
            }
        return new Raster(West + Spacing / 2, South + Spacing / 2, Spacing, level.Width, level.Height, values);
    }
}

/// <summary>One resolution of a map in a file.</summary>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Offsets">Where its tiles begin in the file.</param>
public sealed record GeoTiffLevel(int Width, int Height, IReadOnlyList<long> Offsets)
{
    /// <summary>Tiles in a row.</summary>
    public int TilesAcross => (Width + GeoTiffMap.TileSize - 1) / GeoTiffMap.TileSize;

    /// <summary>Rows of tiles.</summary>
    public int TilesDown => (Height + GeoTiffMap.TileSize - 1) / GeoTiffMap.TileSize;
}
