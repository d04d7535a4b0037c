using System.Buffers.Binary;

namespace Undersand.Runs.Reporting;

/// <summary>A photograph, as large as half a page at most.</summary>
internal static class PhotographFigure
{
    private const double Tallest = 110;

    /// <summary>Null where its size can't be read.</summary>
    public static Drawing? Draw(byte[] picture)
    {
        if (Size(picture) is not var (width, height) || width <= 0 || height <= 0)
            return null;
        double wide = Math.Min(Tokens.TextWidth, Tallest * width / height), tall = wide * height / width;
        var drawing = new Drawing(Tokens.TextWidth, tall);
        drawing.Image(new(0, 0, wide, tall), picture);
        return drawing;
    }

    // JPEG: frame header (T.81, B.2.2). PNG: IHDR. WebP: RFC 9649, clauses 2.5 to 2.7.
    private static (int Width, int Height)? Size(ReadOnlySpan<byte> b)
    {
        try
        {
            if (b.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P']))
                return (BinaryPrimitives.ReadInt32BigEndian(b[16..]), BinaryPrimitives.ReadInt32BigEndian(b[20..]));
            if (b.StartsWith("RIFF"u8))
                return b[12..16] switch
                {
                    var t when t.SequenceEqual("VP8X"u8) => (1 + b[24] + (b[25] << 8) + (b[26] << 16), 1 + b[27] + (b[28] << 8) + (b[29] << 16)),
                    var t when t.SequenceEqual("VP8L"u8) => (1 + (BinaryPrimitives.ReadInt32LittleEndian(b[21..]) & 0x3fff), 1 + (BinaryPrimitives.ReadInt32LittleEndian(b[21..]) >> 14 & 0x3fff)),
                    _ => (BinaryPrimitives.ReadUInt16LittleEndian(b[26..]) & 0x3fff, BinaryPrimitives.ReadUInt16LittleEndian(b[28..]) & 0x3fff),
                };
            for (int at = 2; ;)
            {
                byte marker = b[at + 1];
                if (marker is >= 0xc0 and <= 0xcf and not 0xc4 and not 0xc8 and not 0xcc)
                    return (BinaryPrimitives.ReadUInt16BigEndian(b[(at + 7)..]), BinaryPrimitives.ReadUInt16BigEndian(b[(at + 5)..]));
                at += 2 + BinaryPrimitives.ReadUInt16BigEndian(b[(at + 2)..]);
            }
        }
        catch (Exception e) when (e is IndexOutOfRangeException or ArgumentOutOfRangeException)
        {
            return null;
        }
    }
}
