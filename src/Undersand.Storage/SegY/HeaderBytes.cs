using System.Buffers.Binary;

namespace Undersand.Storage.SegY;

/// <summary>Reads numbers from a header at the byte numbers that the standard prints.</summary>
/// <param name="bytes">The header.</param>
/// <param name="order">Its byte order.</param>
/// <param name="firstNumber">The number of its first byte: 1 for trace headers, 3201 for the binary header.</param>
internal readonly ref struct HeaderBytes(ReadOnlySpan<byte> bytes, SegyByteOrder order, int firstNumber = 1)
{
    private readonly ReadOnlySpan<byte> _bytes = bytes;

    public byte ByteAt(int number) => _bytes[number - firstNumber];

    public ushort UInt16At(int number)
    {
        ReadOnlySpan<byte> at = _bytes.Slice(number - firstNumber, 2);
        return order == SegyByteOrder.BigEndian ? BinaryPrimitives.ReadUInt16BigEndian(at) : BinaryPrimitives.ReadUInt16LittleEndian(at);
    }

    public short Int16At(int number) => (short)UInt16At(number);

    public uint UInt32At(int number)
    {
        ReadOnlySpan<byte> at = _bytes.Slice(number - firstNumber, 4);
        return order switch
        {
            SegyByteOrder.BigEndian => BinaryPrimitives.ReadUInt32BigEndian(at),
            SegyByteOrder.LittleEndian => BinaryPrimitives.ReadUInt32LittleEndian(at),
            _ => (uint)UInt16At(number) << 16 | UInt16At(number + 2),
        };
    }

    public int Int32At(int number) => (int)UInt32At(number);

    public ulong UInt64At(int number) => order == SegyByteOrder.LittleEndian
        ? BinaryPrimitives.ReadUInt64LittleEndian(_bytes.Slice(number - firstNumber, 8))
        : (ulong)UInt32At(number) << 32 | UInt32At(number + 4);

    public double DoubleAt(int number) => BitConverter.UInt64BitsToDouble(UInt64At(number));

    /// <summary>An integer of 32 bits with the scalar that stands elsewhere.</summary>
    public double ScaledAt(int number, int scalarNumber) => Scaled(Int32At(number), Int16At(scalarNumber));

    /// <summary>A scalar as the standard means it: positive multiplies, negative divides, zero counts as 1.</summary>
    public static double Scaled(double value, short scalar) => scalar switch { 0 => value, > 0 => value * scalar, _ => value / -(double)scalar };

    /// <summary>The inverse of <see cref="Scaled"/>.</summary>
    public static double Unscaled(double value, short scalar) => scalar switch { 0 => value, > 0 => value / scalar, _ => value * -(double)scalar };
}
