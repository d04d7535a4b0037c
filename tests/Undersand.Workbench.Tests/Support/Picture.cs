using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

namespace Undersand.Workbench.Tests.Support;

/// <summary>Reads back the indices of a picture of 256 colours without filters, as the program writes them.</summary>
internal sealed record Picture(int Width, int Height, byte[] Indices)
{
    public static Picture Read(byte[] png)
    {
        using var data = new MemoryStream();
        int width = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)), height = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20));
        for (int at = 8; at < png.Length;)
        {
            int length = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at));
            if (Encoding.ASCII.GetString(png, at + 4, 4) == "IDAT")
                data.Write(png, at + 8, length);
            at += 12 + length;
        }
        data.Position = 0;
        using var rows = new ZLibStream(data, CompressionMode.Decompress);
        byte[] indices = new byte[width * height];
        for (int y = 0; y < height; y++)
        {
            Assert.Equal(0, rows.ReadByte());
            rows.ReadExactly(indices, y * width, width);
        }
        return new Picture(width, height, indices);
    }

    public byte this[int x, int y] => Indices[y * Width + x];
}
