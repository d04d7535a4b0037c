using System.Buffers.Binary;
using System.Text;

namespace Undersand.Storage;

/// <summary>A photograph as bytes: what kind it is by its content, and what else it tells than the picture.</summary>
/// <remarks>JPEG: ITU-T T.81, annex B; PNG: W3C PNG, third edition; WebP: RFC 9649.</remarks>
public static class PictureFile
{
    /// <summary>Its kind, by its content and not by its name; null where it is none of JPEG, PNG and WebP.</summary>
    /// <returns>The ending of a file name and the media type.</returns>
    public static (string Ending, string MediaType)? Kind(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length > 4 && bytes[..3].SequenceEqual((ReadOnlySpan<byte>)[0xff, 0xd8, 0xff]))
            return (".jpg", "image/jpeg");
        if (bytes.Length > 33 && bytes[..8].SequenceEqual((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G', 13, 10, 26, 10]) && bytes[12..16].SequenceEqual("IHDR"u8))
            return (".png", "image/png");
        if (bytes.Length > 30 && bytes[..4].SequenceEqual("RIFF"u8) && bytes[8..12].SequenceEqual("WEBP"u8))
            return (".webp", "image/webp");
        return null;
    }

    /// <summary>Its size in pixels; null where it can't be read.</summary>
    public static (int Width, int Height)? Size(ReadOnlySpan<byte> bytes)
    {
        try
        {
            (int Width, int Height) size = Kind(bytes)?.Ending switch { ".jpg" => JpegSize(bytes), ".png" => (BinaryPrimitives.ReadInt32BigEndian(bytes[16..]), BinaryPrimitives.ReadInt32BigEndian(bytes[20..])), ".webp" => WebPSize(bytes), _ => default };
            return size is { Width: > 0, Height: > 0 } ? size : null;
        }
        catch (Exception e) when (e is IndexOutOfRangeException or ArgumentOutOfRangeException)
        {
            return null;
        }
    }

    /// <summary>What a JPEG says about how it is to be turned (1 to 8, as Exif numbers them; 1 is not at all), and the same picture saying nothing of it, for whoever turns it themselves.</summary>
    public static (int Turn, byte[] Bytes) Unturned(byte[] bytes)
    {
        try
        {
            if (Kind(bytes)?.Ending != ".jpg")
                return (1, bytes);
            for (int at = 2; bytes[at + 1] is >= 0xe0 and <= 0xef; at += 2 + BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(at + 2)))
                if (bytes[at + 1] == 0xe1 && bytes.AsSpan(at + 4).StartsWith("Exif\0\0"u8) && TurnAt(bytes.AsSpan(at + 10)) is { } value && U16(bytes.AsSpan(at + 10), value) is var turn and > 1 and <= 8)
                {
                    byte[] plain = [.. bytes];
                    BinaryPrimitives.WriteUInt16BigEndian(plain.AsSpan(at + 10 + value), (ushort)(bytes[at + 10] == 'I' ? 0x0100 : 1));
                    return (turn, plain);
                }
        }
        catch (Exception e) when (e is IndexOutOfRangeException or ArgumentOutOfRangeException)
        {
            // Damaged: shown as it lies there, if at all.
        }
        return (1, bytes);
    }

    // The frame header (T.81, B.2.2).
    private static (int Width, int Height) JpegSize(ReadOnlySpan<byte> bytes)
    {
        for (int at = 2; ; at += 2 + BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]))
            if (bytes[at + 1] is >= 0xc0 and <= 0xcf and not 0xc4 and not 0xc8 and not 0xcc)
                return (BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 7)..]), BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 5)..]));
    }

    // RFC 9649, clauses 2.5 to 2.7.
    private static (int Width, int Height) WebPSize(ReadOnlySpan<byte> bytes)
    {
        if (bytes[12..16].SequenceEqual("VP8X"u8))
            return (1 + bytes[24] + (bytes[25] << 8) + (bytes[26] << 16), 1 + bytes[27] + (bytes[28] << 8) + (bytes[29] << 16));
        if (!bytes[12..16].SequenceEqual("VP8L"u8))
            return (BinaryPrimitives.ReadUInt16LittleEndian(bytes[26..]) & 0x3fff, BinaryPrimitives.ReadUInt16LittleEndian(bytes[28..]) & 0x3fff);
        int packed = BinaryPrimitives.ReadInt32LittleEndian(bytes[21..]);
        return (1 + (packed & 0x3fff), 1 + (packed >> 14 & 0x3fff));
    }

    /// <summary>The picture alone: when, where and with what it was taken, thumbnails, comments and whatever follows its end are left out.</summary>
    /// <exception cref="InvalidDataException">It is none of the three kinds, or damaged.</exception>
    public static byte[] WithoutOrigin(ReadOnlySpan<byte> bytes)
    {
        using var bare = new MemoryStream();
        try
        {
            switch (Kind(bytes)?.Ending)
            {
                case ".jpg": Jpeg(bytes, bare); break;
                case ".png": Png(bytes, bare); break;
                case ".webp": WebP(bytes, bare); break;
                default: throw new InvalidDataException("this is no JPEG, PNG or WebP picture");
            }
        }
        catch (Exception e) when (e is ArgumentOutOfRangeException or IndexOutOfRangeException)
        {
            throw new InvalidDataException("this picture is damaged", e);
        }
        return bare.ToArray();
    }

    // Segments up to the scan, without APP1 to APP13, APP15 and comments; of APP0 only JFIF's head; APP14 says how colours are meant. What the camera said
    // about turning the picture is said again, alone.
    private static void Jpeg(ReadOnlySpan<byte> bytes, MemoryStream bare)
    {
        bare.Write(bytes[..2]);
        int turn = 1, at = 2, turnAt = 2;
        while (true)
        {
            if (bytes[at] != 0xff)
                throw new InvalidDataException("this picture is damaged");
            byte marker = bytes[at + 1];
            if (marker == 0xff)
            {
                at++;
                continue;
            }
            if (marker == 0xd9)
                break;
            int length = BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]);
            ReadOnlySpan<byte> body = bytes.Slice(at + 4, length - 2);
            if (marker == 0xe1 && body.StartsWith("Exif\0\0"u8))
                turn = Turn(body[6..]);
            if (marker == 0xe0 && body.StartsWith("JFIF\0"u8))
            {
                bare.Write([0xff, 0xe0, 0, 16, .. body[..12], 0, 0]);
                turnAt = (int)bare.Position;
            }
            else if (marker is not (>= 0xe0 and <= 0xed or 0xef or 0xfe))
                bare.Write(bytes.Slice(at, 2 + length));
            at += 2 + length;
            if (marker == 0xda)
            {
                int end = at;
                while (bytes[end] != 0xff || bytes[end + 1] is 0 or 0xff or >= 0xd0 and <= 0xd7)
                    end++;
                bare.Write(bytes[at..end]);
                at = end;
            }
        }
        bare.Write([0xff, 0xd9]);
        if (turn is > 1 and <= 8)
        {
            byte[] whole = bare.ToArray();
            bare.SetLength(0);
            bare.Write(whole.AsSpan(0, turnAt));
            bare.Write([0xff, 0xe1, 0, 34, .. "Exif\0\0MM\0*\0\0\0"u8, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, (byte)turn, 0, 0, 0, 0, 0, 0]);
            bare.Write(whole.AsSpan(turnAt));
        }
    }

    private static int Turn(ReadOnlySpan<byte> tiff) => TurnAt(tiff) is { } at ? U16(tiff, at) : 1;

    // Where the orientation's value stands: tag 0x0112 of the first directory (Exif 2.32, 4.6.5).
    private static int? TurnAt(ReadOnlySpan<byte> tiff)
    {
        int directory = tiff.StartsWith("II"u8) ? BinaryPrimitives.ReadInt32LittleEndian(tiff[4..]) : BinaryPrimitives.ReadInt32BigEndian(tiff[4..]);
        for (int i = 0; i < U16(tiff, directory); i++)
            if (U16(tiff, directory + 2 + 12 * i) == 0x0112)
                return directory + 10 + 12 * i;
        return null;
    }

    private static int U16(ReadOnlySpan<byte> tiff, int at) => tiff.StartsWith("II"u8) ? BinaryPrimitives.ReadUInt16LittleEndian(tiff[at..]) : BinaryPrimitives.ReadUInt16BigEndian(tiff[at..]);

    private static readonly string[] s_chunks = ["IHDR", "PLTE", "IDAT", "IEND", "tRNS", "gAMA", "cHRM", "sRGB", "sBIT", "bKGD", "pHYs"];

    private static void Png(ReadOnlySpan<byte> bytes, MemoryStream bare)
    {
        bare.Write(bytes[..8]);
        string type;
        int at = 8;
        do
        {
            int length = BinaryPrimitives.ReadInt32BigEndian(bytes[at..]);
            type = Encoding.ASCII.GetString(bytes.Slice(at + 4, 4));
            if (s_chunks.Contains(type))
                bare.Write(bytes.Slice(at, 12 + length));
            at += 12 + length;
        }
        while (type != "IEND");
    }

    private static void WebP(ReadOnlySpan<byte> bytes, MemoryStream bare)
    {
        bare.Write(bytes[..12]);
        int end = Math.Min(bytes.Length, 8 + BinaryPrimitives.ReadInt32LittleEndian(bytes[4..]));
        for (int at = 12; at + 8 <= end;)
        {
            int length = BinaryPrimitives.ReadInt32LittleEndian(bytes[(at + 4)..]), padded = length + (length & 1);
            string type = Encoding.ASCII.GetString(bytes.Slice(at, 4));
            if (type is "VP8 " or "VP8L" or "VP8X" or "ALPH" or "ANIM" or "ANMF")
            {
                byte[] chunk = bytes.Slice(at, Math.Min(8 + padded, bytes.Length - at)).ToArray();
                // The bits that promise a profile, Exif and XMP.
                if (type == "VP8X")
                    chunk[8] &= 0b1101_0011;
                bare.Write(chunk);
            }
            at += 8 + padded;
        }
        byte[] size = new byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(size, (int)bare.Length - 8);
        bare.Position = 4;
        bare.Write(size);
    }
}
