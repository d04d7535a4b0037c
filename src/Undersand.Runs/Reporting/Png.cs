using System.Buffers.Binary;
using System.IO.Compression;

namespace Undersand.Runs.Reporting;

/// <summary>Writes PNG pictures (W3C PNG, third edition): of 256 colours with one fully transparent entry, or of true colours.</summary>
/// <remarks>Our own because it is a page of code, needs no native library and gives the same bytes each time.</remarks>
internal static class Png
{
    private static readonly uint[] _crc = CrcTable();

    /// <param name="width">Pixels.</param>
    /// <param name="height">Pixels.</param>
    /// <param name="indices">Row by row from the top; 0 is transparent, k is the map's entry k (entry 0 gives way to entry 1).</param>
    /// <param name="map">The colours.</param>
    /// <param name="effort">How hard it is packed: all it takes for files that are kept, little for pictures that are looked at once.</param>
    public static byte[] Encode(int width, int height, ReadOnlySpan<byte> indices, ColourMap map, CompressionLevel effort = CompressionLevel.SmallestSize)
    {
        using MemoryStream png = Begin(width, height, 3);
        var palette = new byte[768];
        for (int i = 0; i < 256; i++)
            (palette[3 * i], palette[3 * i + 1], palette[3 * i + 2]) = map[i];
        Chunk(png, "PLTE"u8, palette);
        Chunk(png, "tRNS"u8, [0]);
        return End(png, width, height, indices, effort);
    }

    /// <summary>A picture of true colours (colour type 6).</summary>
    /// <param name="width">Pixels.</param>
    /// <param name="height">Pixels.</param>
    /// <param name="colours">Red, green, blue and opacity of each pixel, row by row from the top.</param>
    public static byte[] EncodeColours(int width, int height, ReadOnlySpan<byte> colours)
    {
        using MemoryStream png = Begin(width, height, 6);
        return End(png, 4 * width, height, colours, CompressionLevel.Optimal);
    }

    private static MemoryStream Begin(int width, int height, byte colourType)
    {
        var png = new MemoryStream();
        png.Write([0x89, (byte)'P', (byte)'N', (byte)'G', 13, 10, 26, 10]);
        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        header[8] = 8;
        header[9] = colourType;
        Chunk(png, "IHDR"u8, header);
        return png;
    }

    private static byte[] End(MemoryStream png, int bytesAcross, int height, ReadOnlySpan<byte> pixels, CompressionLevel level)
    {
        Chunk(png, "IDAT"u8, Compress(bytesAcross, height, pixels, level));
        Chunk(png, "IEND"u8, []);
        return png.ToArray();
    }

    private static byte[] Compress(int bytesAcross, int height, ReadOnlySpan<byte> pixels, CompressionLevel level)
    {
        using var memory = new MemoryStream();
        using (var zlib = new ZLibStream(memory, level, leaveOpen: true))
            for (int y = 0; y < height; y++)
            {
                zlib.WriteByte(0);
                zlib.Write(pixels.Slice(y * bytesAcross, bytesAcross));
            }
        return memory.ToArray();
    }

    private static void Chunk(Stream png, ReadOnlySpan<byte> type, ReadOnlySpan<byte> data)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, data.Length);
        png.Write(number);
        png.Write(type);
        png.Write(data);
        uint crc = Crc(Crc(uint.MaxValue, type), data) ^ uint.MaxValue;
        BinaryPrimitives.WriteUInt32BigEndian(number, crc);
        png.Write(number);
    }

    private static uint Crc(uint crc, ReadOnlySpan<byte> data)
    {
        foreach (byte b in data)
            crc = _crc[(crc ^ b) & 0xff] ^ (crc >> 8);
        return crc;
    }

    private static uint[] CrcTable()
    {
        var table = new uint[256];
        for (uint n = 0; n < 256; n++)
        {
            uint c = n;
            for (int k = 0; k < 8; k++)
                c = (c & 1) != 0 ? 0xedb88320u ^ (c >> 1) : c >> 1;
            table[n] = c;
        }
        return table;
    }
}
