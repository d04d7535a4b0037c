using System.Buffers.Binary;
using System.Text;

namespace Undersand.Runs.Tests.Support;

/// <summary>Reads one-dimensional .npy files (NumPy format 1.0), enough for comparing samples.</summary>
internal static class NumPy
{
    public static double[] Read(string path)
    {
        byte[] bytes = File.ReadAllBytes(path);
        int length = BinaryPrimitives.ReadUInt16LittleEndian(bytes.AsSpan(8));
        string header = Encoding.ASCII.GetString(bytes, 10, length);
        ReadOnlySpan<byte> data = bytes.AsSpan(10 + length);
        foreach (string type in (string[])["f4", "f8", "i4", "i2"])
            if (header.Contains($"<{type}'", StringComparison.Ordinal) || header.Contains($">{type}'", StringComparison.Ordinal))
                return Convert(data, type, header.Contains($">{type}'", StringComparison.Ordinal));
        throw new NotSupportedException(header);
    }

    private static double[] Convert(ReadOnlySpan<byte> data, string type, bool big)
    {
        int size = type[1] - '0';
        double[] values = new double[data.Length / size];
        byte[] word = new byte[size];
        for (int i = 0; i < values.Length; i++)
        {
            data.Slice(i * size, size).CopyTo(word);
            if (big != !BitConverter.IsLittleEndian)
                Array.Reverse(word);
            values[i] = type switch { "f4" => BitConverter.ToSingle(word), "f8" => BitConverter.ToDouble(word), "i4" => BitConverter.ToInt32(word), _ => BitConverter.ToInt16(word) };
        }
        return values;
    }
}
