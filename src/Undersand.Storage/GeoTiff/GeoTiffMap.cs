using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

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
            byte[] head = Read(file, 0, 8);
            if (head[0] != 'I' || head[1] != 'I' || head[2] != 42)
                throw new InvalidDataException("it does not begin as a little-endian TIFF");
            var levels = new List<GeoTiffLevel>();
            Dictionary<int, byte[]>? first = null;
            for (uint at = U32(head, 4); at != 0;)
            {
                (Dictionary<int, byte[]> tags, at) = Directory(file, at);
                first ??= tags;
                if (Value(tags, 258) != 32 || Value(tags, 259) != 8 || Value(tags, 322) != TileSize || Value(tags, 339) != 3)
                    throw new InvalidDataException("its layout is not ours");
                levels.Add(new GeoTiffLevel((int)Value(tags, 256), (int)Value(tags, 257), Values(tags[324]), Values(tags[325])));
            }
            byte[] tie = first![33922], scale = first[33550];
            return new GeoTiffMap(path, levels, Encoding.UTF8.GetString(first[270]).TrimEnd('\0'), BitConverter.ToDouble(tie, 24), BitConverter.ToDouble(tie, 32), BitConverter.ToDouble(scale, 0));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidDataException or KeyNotFoundException or ArgumentException)
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
        using var packed = new ZLibStream(new MemoryStream(Read(file, l.Offsets[i], (int)l.ByteCounts[i])), CompressionMode.Decompress);
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

    private static (Dictionary<int, byte[]> Tags, uint Next) Directory(FileStream file, uint at)
    {
        int count = BinaryPrimitives.ReadUInt16LittleEndian(Read(file, at, 2));
        byte[] entries = Read(file, at + 2, 12 * count + 4);
        var tags = new Dictionary<int, byte[]>();
        for (int i = 0; i < count; i++)
        {
            int tag = BinaryPrimitives.ReadUInt16LittleEndian(entries.AsSpan(12 * i)), type = BinaryPrimitives.ReadUInt16LittleEndian(entries.AsSpan(12 * i + 2));
            int size = type switch { 3 => 2, 4 => 4, 12 => 8, _ => 1 };
            long bytes = size * (long)U32(entries, 12 * i + 4);
            if (bytes > file.Length)
                throw new InvalidDataException("a directory is damaged");
            byte[] value = bytes <= 4 ? entries.AsSpan(12 * i + 8, (int)bytes).ToArray() : Read(file, U32(entries, 12 * i + 8), (int)bytes);
            tags[tag] = size == 2 ? Widened(value) : value;
        }
        return (tags, U32(entries, 12 * count));
    }

    private static byte[] Widened(byte[] shorts)
    {
        byte[] longs = new byte[2 * shorts.Length];
        for (int i = 0; i < shorts.Length; i += 2)
            shorts.AsSpan(i, 2).CopyTo(longs.AsSpan(2 * i));
        return longs;
    }

    private static uint Value(Dictionary<int, byte[]> tags, int tag) => U32(tags[tag], 0);

    private static uint[] Values(byte[] bytes) => [.. Enumerable.Range(0, bytes.Length / 4).Select(i => U32(bytes, 4 * i))];

    private static uint U32(byte[] bytes, int at) => BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(at));

    private static byte[] Read(FileStream file, long at, int count)
    {
        byte[] bytes = new byte[count];
        file.Position = at;
        file.ReadExactly(bytes);
        return bytes;
    }
}

/// <summary>One resolution of a map in a file.</summary>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
/// <param name="Offsets">Where its tiles begin in the file.</param>
/// <param name="ByteCounts">How long they are there.</param>
public sealed record GeoTiffLevel(int Width, int Height, IReadOnlyList<uint> Offsets, IReadOnlyList<uint> ByteCounts)
{
    /// <summary>Tiles in a row.</summary>
    public int TilesAcross => (Width + GeoTiffMap.TileSize - 1) / GeoTiffMap.TileSize;

    /// <summary>Rows of tiles.</summary>
    public int TilesDown => (Height + GeoTiffMap.TileSize - 1) / GeoTiffMap.TileSize;
}
