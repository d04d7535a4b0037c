using System.Buffers.Binary;
using System.IO.Compression;
using Undersand.Positioning;

namespace Undersand.Storage.GeoTiff;

/// <summary>Writes maps as cloud-optimised GeoTIFF: 32-bit floats, NaN where there is no data, tiles, overviews, directories before data.</summary>
/// <remarks>
/// TIFF 6.0, GeoTIFF 1.1 (OGC 19-008r4) and the layout of OGC 21-026 with GDAL's structural header, so that each tile is preceded by its size
/// and followed by its last four bytes again. Overviews halve the picture until it fits one tile.
/// </remarks>
public static class GeoTiffWriter
{
    private static readonly ZLibCompressionOptions Level = new() { CompressionLevel = 6 };

    /// <summary>Writes a map; north is up in the file.</summary>
    /// <param name="path">The file, replaced if it exists.</param>
    /// <param name="raster">The values.</param>
    /// <param name="crs">Reference system of the raster.</param>
    /// <param name="description">What the values are, one sentence.</param>
    /// <param name="unit">Their unit, “m”, or “” for a pure number.</param>
    /// <param name="rule">How overviews are made.</param>
    /// <exception cref="SurveyException">The place can't be written to, or the map is larger than 4 GiB.</exception>
    public static void WriteCloudOptimised(
        string path, Raster raster, ProjectedCrs crs, string description, string unit, OverviewRule rule = OverviewRule.Mean)
    {
        if (raster.CountX < 1 || raster.CountY < 1 || raster.Values.Length != raster.CountX * raster.CountY)
            throw new ArgumentException("a map has at least one value, and as many as columns times rows", nameof(raster));
        var levels = TiffLevel.Pyramid(raster, rule);
        WholeFile.Write(path, file => Write(file, path, levels, raster, crs, description, unit));
    }

    private static void Write(
        Stream file, string path, IReadOnlyList<TiffLevel> levels, Raster raster, ProjectedCrs crs, string description, string unit)
    {
        // Two passes over the directories: the first finds their sizes, the second fills in where the tiles went.
        file.Write(new byte[WriteDirectories(Stream.Null, levels, raster, crs, description, unit)]);
        foreach (TiffLevel level in levels.Reverse())
            WriteTiles(file, path, level);
        file.Position = 0;
        WriteDirectories(file, levels, raster, crs, description, unit);
        file.Position = file.Length;
    }

    private static long WriteDirectories(
        Stream file, IReadOnlyList<TiffLevel> levels, Raster raster, ProjectedCrs crs, string description, string unit)
    {
        var head = new MemoryStream();
        head.Write("II*\0"u8);
        head.Write(LittleEndian(8 + TiffDirectory.StructuralMetadata.Length));
        head.Write(TiffDirectory.StructuralMetadata);
        for (int i = 0; i < levels.Count; i++)
        {
            var directory = new TiffDirectory(levels[i], isOverview: i > 0);
            if (i == 0)
                directory.AddGeography(raster, crs, description, unit);
            directory.WriteTo(head, isLast: i == levels.Count - 1);
        }

        head.WriteTo(file);
        return head.Length;
    }

    private static void WriteTiles(Stream file, string path, TiffLevel level)
    {
        byte[] tile = new byte[TiffLevel.TileBytes];
        for (int ty = 0, i = 0; ty < level.TilesDown; ty++)
        {
            for (int tx = 0; tx < level.TilesAcross; tx++, i++)
            {
                level.CopyTile(tx, ty, tile);
                byte[] packed = Compress(tile);
                if (file.Position + packed.Length + 8 > uint.MaxValue)
                    throw new SurveyException(path, null, "the map would be larger than 4 GiB", "process the survey with a larger voxel_m or in parts");
                file.Write(LittleEndian(packed.Length));
                level.Offsets[i] = (uint)file.Position;
                level.ByteCounts[i] = (uint)packed.Length;
                file.Write(packed);
                file.Write(packed.AsSpan(packed.Length - 4));
            }
        }
    }

    private static byte[] LittleEndian(int value)
    {
        byte[] bytes = new byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(bytes, value);
        return bytes;
    }

    private static byte[] Compress(byte[] bytes)
    {
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, Level, leaveOpen: true))
            zlib.Write(bytes);
        return packed.ToArray();
    }
}
