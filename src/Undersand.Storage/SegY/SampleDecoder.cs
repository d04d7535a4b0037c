using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace Undersand.Storage.SegY;

/// <summary>Turns the bytes of a trace into floats, in the recording's units.</summary>
/// <remarks>A value that a 32-bit float can't hold becomes an infinity, which the caller must refuse: it never passes silently.</remarks>
internal static class SampleDecoder
{
    /// <param name="bytes">The samples as stored; changed where pairs of bytes must be swapped.</param>
    /// <param name="format">The sample format.</param>
    /// <param name="order">The byte order.</param>
    /// <param name="samples">As many as the bytes hold.</param>
    public static void Decode(Span<byte> bytes, SegyFormat format, SegyByteOrder order, Span<float> samples)
    {
        int size = SegyFormats.SizeOf(format);
        if (bytes.Length != samples.Length * size)
            throw new ArgumentException("the bytes don't match the number of samples", nameof(bytes));
        if (order == SegyByteOrder.PairSwapped && size > 1)
            SwapPairs(bytes);
        bool little = order == SegyByteOrder.LittleEndian;
        switch (size)
        {
            case 1: Decode1(bytes, format, samples); break;
            case 2: Decode2(bytes, format, little, samples); break;
            case 3: Decode3(bytes, format, little, samples); break;
            case 4: Decode4(bytes, format, little, samples); break;
            default: Decode8(bytes, format, little, samples); break;
        }
    }

    internal static void SwapPairs(Span<byte> bytes)
    {
        for (int i = 0; i + 1 < bytes.Length; i += 2)
            (bytes[i], bytes[i + 1]) = (bytes[i + 1], bytes[i]);
    }

    private static void Decode1(ReadOnlySpan<byte> bytes, SegyFormat format, Span<float> samples)
    {
        bool unsigned = format == SegyFormat.UInt8;
        for (int i = 0; i < samples.Length; i++)
            samples[i] = unsigned ? bytes[i] : (sbyte)bytes[i];
    }

    private static void Decode2(ReadOnlySpan<byte> bytes, SegyFormat format, bool little, Span<float> samples)
    {
        ReadOnlySpan<ushort> words = MemoryMarshal.Cast<byte, ushort>(bytes);
        bool reverse = little != BitConverter.IsLittleEndian, unsigned = format == SegyFormat.UInt16;
        for (int i = 0; i < samples.Length; i++)
        {
            ushort word = reverse ? BinaryPrimitives.ReverseEndianness(words[i]) : words[i];
            samples[i] = unsigned ? word : (short)word;
        }
    }

    private static void Decode3(ReadOnlySpan<byte> bytes, SegyFormat format, bool little, Span<float> samples)
    {
        bool unsigned = format == SegyFormat.UInt24;
        for (int i = 0; i < samples.Length; i++)
        {
            ReadOnlySpan<byte> b = bytes.Slice(3 * i, 3);
            int word = little ? b[2] << 16 | b[1] << 8 | b[0] : b[0] << 16 | b[1] << 8 | b[2];
            samples[i] = unsigned ? word : word << 8 >> 8;
        }
    }

    private static void Decode4(ReadOnlySpan<byte> bytes, SegyFormat format, bool little, Span<float> samples)
    {
        ReadOnlySpan<uint> words = MemoryMarshal.Cast<byte, uint>(bytes);
        bool reverse = little != BitConverter.IsLittleEndian;
        for (int i = 0; i < samples.Length; i++)
        {
            uint word = reverse ? BinaryPrimitives.ReverseEndianness(words[i]) : words[i];
            samples[i] = format switch
            {
                SegyFormat.IbmFloat32 => (float)IbmFloat.ToDouble(word),
                SegyFormat.Float32 => BitConverter.UInt32BitsToSingle(word),
                SegyFormat.Int32 => (int)word,
                SegyFormat.UInt32 => word,
                _ => FixedPointWithGain(word),
            };
        }
    }

    private static void Decode8(ReadOnlySpan<byte> bytes, SegyFormat format, bool little, Span<float> samples)
    {
        ReadOnlySpan<ulong> words = MemoryMarshal.Cast<byte, ulong>(bytes);
        bool reverse = little != BitConverter.IsLittleEndian;
        for (int i = 0; i < samples.Length; i++)
        {
            ulong word = reverse ? BinaryPrimitives.ReverseEndianness(words[i]) : words[i];
            samples[i] = format switch
            {
                SegyFormat.Float64 => (float)BitConverter.UInt64BitsToDouble(word),
                SegyFormat.Int64 => (long)word,
                _ => word,
            };
        }
    }

    /// <summary>Format 4 (revision 0): bits 8–15 the gain's exponent, low 16 bits the signed value; value × 2^gain.</summary>
    private static float FixedPointWithGain(uint word) => (float)Math.ScaleB((short)word, (int)(word >> 16 & 0xFF));
}
