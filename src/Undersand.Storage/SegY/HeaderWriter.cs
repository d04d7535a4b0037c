using System.Buffers.Binary;
using System.Text;

namespace Undersand.Storage.SegY;

/// <summary>The inverse of <see cref="HeaderBytes"/>.</summary>
internal readonly ref struct HeaderWriter(Span<byte> bytes, SegyByteOrder order, int firstNumber = 1)
{
    private readonly Span<byte> _bytes = bytes;

    public void Int16(int number, int value)
    {
        Span<byte> at = _bytes.Slice(number - firstNumber, 2);
        if (order == SegyByteOrder.BigEndian)
            BinaryPrimitives.WriteUInt16BigEndian(at, (ushort)value);
        else
            BinaryPrimitives.WriteUInt16LittleEndian(at, (ushort)value);
    }

    public void Int32(int number, int value)
    {
        bool little = order == SegyByteOrder.LittleEndian;
        Int16(number, little ? value : value >> 16);
        Int16(number + 2, little ? value >> 16 : value);
    }

    public void Int64(int number, long value)
    {
        bool little = order == SegyByteOrder.LittleEndian;
        Int32(number, (int)(little ? value : value >> 32));
        Int32(number + 4, (int)(little ? value >> 32 : value));
    }

    public void Double(int number, double value) => Int64(number, BitConverter.DoubleToInt64Bits(value));

    public void Text(int number, string text) => Encoding.ASCII.GetBytes(text, _bytes.Slice(number - firstNumber, text.Length));
}
