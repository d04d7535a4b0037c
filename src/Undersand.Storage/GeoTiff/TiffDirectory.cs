using System.Buffers.Binary;
using System.Security;
using System.Text;
using Undersand.Positioning;

namespace Undersand.Storage.GeoTiff;

/// <summary>An image file directory of TIFF 6.0 (section 2), little-endian.</summary>
internal sealed class TiffDirectory
{
    private const ushort Ascii = 2, Short = 3, Long = 4, Double = 12;
    private readonly SortedDictionary<ushort, (ushort Type, int Count, byte[] Bytes)> _entries = [];

    /// <summary>GDAL's structural header, which tells a reader over HTTP that it may trust the layout. An even number of bytes.</summary>
    public static byte[] StructuralMetadata { get; } = MakeStructuralMetadata();

    public TiffDirectory(TiffLevel level, bool isOverview)
    {
        Longs(254, isOverview ? 1u : 0u);
        Longs(256, (uint)level.Width);
        Longs(257, (uint)level.Height);
        Shorts(258, 32);
        Shorts(259, 8);
        Shorts(262, 1);
        Shorts(277, 1);
        Shorts(284, 1);
        Shorts(322, TiffLevel.TileSize);
        Shorts(323, TiffLevel.TileSize);
        Longs(324, level.Offsets);
        Longs(325, level.ByteCounts);
        Shorts(339, 3);
        Text(42113, "nan");
    }

    /// <summary>Where the map lies and what it says. GeoTIFF 1.1: pixel scale, tie point and keys; GDAL's own tag for the unit.</summary>
    public void AddGeography(Raster raster, ProjectedCrs crs, string description, string unit)
    {
        Text(270, description);
        Text(305, "Undersand");
        Doubles(33550, raster.Spacing, raster.Spacing, 0);
        double west = raster.OriginEasting - 0.5 * raster.Spacing, north = raster.OriginNorthing + (raster.CountY - 0.5) * raster.Spacing;
        Doubles(33922, 0, 0, 0, west, north, 0);
        string citation = crs.Name + "|";
        Shorts(
            34735,
            1, 1, 1, 5, // version 1.1.1, five keys
            1024, 0, 1, 1, // GTModelType: projected
            1025, 0, 1, 1, // GTRasterType: a value is an area
            1026, 34737, (ushort)citation.Length, 0, // GTCitation
            3072, 0, 1, (ushort)crs.Epsg, // ProjectedCRS
            3076, 0, 1, 9001); // ProjLinearUnits: metre
        Text(34737, citation);
        string item = $"<Item name=\"DESCRIPTION\" sample=\"0\" role=\"description\">{Escaped(description)}</Item>"
            + (unit.Length == 0 ? "" : $"<Item name=\"UNITTYPE\" sample=\"0\" role=\"unittype\">{Escaped(unit)}</Item>");
        Text(42112, $"<GDALMetadata>{item}</GDALMetadata>");
    }

    /// <summary>Appends the directory and the values that don't fit in it; starts and ends on an even byte.</summary>
    public void WriteTo(MemoryStream stream, bool isLast)
    {
        long valuesAt = stream.Position + 2 + 12 * _entries.Count + 4;
        var values = new MemoryStream();
        Put16(stream, _entries.Count);
        foreach (var (tag, (type, count, bytes)) in _entries)
        {
            Put16(stream, tag);
            Put16(stream, type);
            Put32(stream, count);
            if (bytes.Length <= 4)
            {
                stream.Write(bytes);
                stream.Write(new byte[4 - bytes.Length]);
                continue;
            }

            Put32(stream, valuesAt + values.Length);
            values.Write(bytes);
            if (values.Length % 2 == 1)
                values.WriteByte(0);
        }

        Put32(stream, isLast ? 0 : valuesAt + values.Length);
        values.WriteTo(stream);
    }

    // GDAL reads the XML, then unescapes the text once more.
    private static string? Escaped(string text) => SecurityElement.Escape(SecurityElement.Escape(text));

    private void Shorts(ushort tag, params ReadOnlySpan<ushort> values)
    {
        byte[] bytes = new byte[2 * values.Length];
        for (int i = 0; i < values.Length; i++)
            BinaryPrimitives.WriteUInt16LittleEndian(bytes.AsSpan(2 * i), values[i]);
        _entries[tag] = (Short, values.Length, bytes);
    }

    private void Longs(ushort tag, params ReadOnlySpan<uint> values)
    {
        byte[] bytes = new byte[4 * values.Length];
        for (int i = 0; i < values.Length; i++)
            BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(4 * i), values[i]);
        _entries[tag] = (Long, values.Length, bytes);
    }

    private void Doubles(ushort tag, params ReadOnlySpan<double> values)
    {
        byte[] bytes = new byte[8 * values.Length];
        for (int i = 0; i < values.Length; i++)
            BinaryPrimitives.WriteDoubleLittleEndian(bytes.AsSpan(8 * i), values[i]);
        _entries[tag] = (Double, values.Length, bytes);
    }

    private void Text(ushort tag, string text)
    {
        byte[] bytes = [.. Encoding.UTF8.GetBytes(text), 0];
        _entries[tag] = (Ascii, bytes.Length, bytes);
    }

    private static void Put16(Stream stream, int value)
    {
        Span<byte> bytes = stackalloc byte[2];
        BinaryPrimitives.WriteUInt16LittleEndian(bytes, checked((ushort)value));
        stream.Write(bytes);
    }

    private static void Put32(Stream stream, long value)
    {
        Span<byte> bytes = stackalloc byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(bytes, checked((uint)value));
        stream.Write(bytes);
    }

    private static byte[] MakeStructuralMetadata()
    {
        const string Content = "LAYOUT=IFDS_BEFORE_DATA\nBLOCK_ORDER=ROW_MAJOR\nBLOCK_LEADER=SIZE_AS_UINT4\n"
            + "BLOCK_TRAILER=LAST_4_BYTES_REPEATED\nKNOWN_INCOMPATIBLE_EDITION=NO\n ";
        string text = $"GDAL_STRUCTURAL_METADATA_SIZE={Content.Length:D6} bytes\n{Content}";
        return Encoding.ASCII.GetBytes(text.Length % 2 == 0 ? text : text + " ");
    }
}
