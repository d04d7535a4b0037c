using System.Buffers.Binary;

namespace Undersand.Storage.SegY;

/// <summary>The inverse of <see cref="SampleDecoder"/>: integers are rounded, halves away from zero.</summary>
internal static class SampleEncoder
{
    /// <exception cref="ArgumentOutOfRangeException">A value is beyond the format's range.</exception>
    public static void Encode(ReadOnlySpan<float> samples, SegyFormat format, SegyByteOrder order, Span<byte> bytes)
    {
        int size = SegyFormats.SizeOf(format);
        for (int i = 0; i < samples.Length; i++)
        {
            Span<byte> at = bytes.Slice(i * size, size);
            ulong word = WordOf(samples[i], format, size);
            for (int k = 0; k < size; k++)
                at[order == SegyByteOrder.LittleEndian ? k : size - 1 - k] = (byte)(word >> (8 * k));
        }
        if (order == SegyByteOrder.PairSwapped && size > 1)
            SampleDecoder.SwapPairs(bytes[..(samples.Length * size)]);
    }

    private static ulong WordOf(float value, SegyFormat format, int size) => format switch
    {
        SegyFormat.IbmFloat32 => IbmFloat.FromDouble(value),
        SegyFormat.Float32 => BitConverter.SingleToUInt32Bits(value),
        SegyFormat.Float64 => BitConverter.DoubleToUInt64Bits(value),
        SegyFormat.FixedPointWithGain => FixedPoint(value),
        _ => Integer(value, SegyFormats.IsUnsigned(format), 8 * size),
    };

    private static ulong Integer(float value, bool unsigned, int bits)
    {
        double rounded = Math.Round(value, MidpointRounding.AwayFromZero), range = Math.ScaleB(1, unsigned ? bits : bits - 1);
        if (!(rounded < range && rounded >= (unsigned ? 0 : -range)))
            throw new ArgumentOutOfRangeException(nameof(value), value, "beyond the range of the sample format");
        return unsigned ? (ulong)rounded : (ulong)(long)rounded;
    }

    private static uint FixedPoint(float value)
    {
        int gain = 0;
        double scaled = value;
        for (; Math.Abs(scaled) > short.MaxValue; gain++)
            scaled /= 2;
        return (uint)gain << 16 | (ushort)(short)Math.Round(scaled, MidpointRounding.AwayFromZero);
    }
}
