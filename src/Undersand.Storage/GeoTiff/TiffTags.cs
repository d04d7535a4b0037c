using System.Buffers.Binary;
using System.Text;

namespace Undersand.Storage.GeoTiff;

/// <summary>The tags of one picture in anybody's TIFF (TIFF 6.0, section 2; BigTIFF too, either byte order), read without believing a size: nothing is taken that doesn't fit into the file.</summary>
internal sealed class TiffTags
{
    private const int MostPictures = 64, MostTags = 512;
    private readonly Dictionary<int, (int Type, byte[] Bytes)> _tags = [];

    private TiffTags(bool bigEndian) => IsBigEndian = bigEndian;

    public bool IsBigEndian { get; }

    /// <summary>All pictures of the file, in its order.</summary>
    /// <exception cref="InvalidDataException">It is no TIFF, or a damaged one.</exception>
    public static IReadOnlyList<TiffTags> Read(FileStream file)
    {
        byte[] head = Bytes(file, 0, 16);
        bool big = head[0] == 'M';
        if (head[0] != head[1] || !(big || head[0] == 'I'))
            throw new InvalidDataException("it does not begin as a TIFF");
        var reader = new TiffTags(big);
        int kind = (int)reader.Number(head.AsSpan(2, 2));
        if (kind is not (42 or 43))
            throw new InvalidDataException("it does not begin as a TIFF");
        bool wide = kind == 43;
        var pictures = new List<TiffTags>();
        var seen = new HashSet<long>();
        for (long at = (long)reader.Number(wide ? head.AsSpan(8, 8) : head.AsSpan(4, 4)); at != 0 && pictures.Count < MostPictures;)
        {
            if (!seen.Add(at))
                throw new InvalidDataException("its directories run in a circle");
            var tags = new TiffTags(big);
            at = tags.ReadDirectory(file, at, wide);
            pictures.Add(tags);
        }
        return pictures;
    }

    public bool Has(int tag) => _tags.ContainsKey(tag);

    public long Whole(int tag, long otherwise) => _tags.ContainsKey(tag) && Wholes(tag) is [var first, ..] ? first : otherwise;

    /// <summary>The whole numbers of a tag; none where it isn't there.</summary>
    public long[] Wholes(int tag)
    {
        if (!_tags.TryGetValue(tag, out var value) || value.Type is not (1 or 3 or 4 or 13 or 16 or 18))
            return [];
        int size = SizeOf(value.Type);
        return [.. Enumerable.Range(0, value.Bytes.Length / size).Select(i => (long)Number(value.Bytes.AsSpan(i * size, size)))];
    }

    public double[] Doubles(int tag) => _tags.TryGetValue(tag, out var value) && value.Type == 12
        ? [.. Enumerable.Range(0, value.Bytes.Length / 8).Select(i => BitConverter.UInt64BitsToDouble(Number(value.Bytes.AsSpan(i * 8, 8))))] : [];

    public string Text(int tag) => _tags.TryGetValue(tag, out var value) && value.Type == 2 ? Encoding.UTF8.GetString(value.Bytes).TrimEnd('\0', ' ') : "";

    private long ReadDirectory(FileStream file, long at, bool wide)
    {
        int counter = wide ? 8 : 2, entry = wide ? 20 : 12, inline = wide ? 8 : 4;
        ulong count = Number(Bytes(file, at, counter));
        if (count is 0 or > MostTags)
            throw new InvalidDataException("a directory is damaged");
        byte[] entries = Bytes(file, at + counter, (long)count * entry + inline);
        for (int i = 0; i < (int)count; i++)
        {
            ReadOnlySpan<byte> e = entries.AsSpan(i * entry, entry);
            int tag = (int)Number(e[..2]), type = (int)Number(e[2..4]);
            ulong values = Number(e[4..(4 + inline)]);
            if (values > (ulong)file.Length)
                throw new InvalidDataException($"its tag {tag} claims to be larger than the file");
            long bytes = (long)values * SizeOf(type);
            _tags[tag] = (type, bytes <= inline ? e.Slice(4 + inline, (int)bytes).ToArray() : Bytes(file, (long)Number(e[(4 + inline)..]), bytes));
        }
        return (long)Number(entries.AsSpan((int)count * entry, inline));
    }

    private static int SizeOf(int type) => type switch { 3 or 8 => 2, 4 or 9 or 11 or 13 => 4, 5 or 10 or 12 or 16 or 17 or 18 => 8, _ => 1 };

    private ulong Number(ReadOnlySpan<byte> bytes) => (bytes.Length, IsBigEndian) switch
    {
        (1, _) => bytes[0],
        (2, true) => BinaryPrimitives.ReadUInt16BigEndian(bytes),
        (2, false) => BinaryPrimitives.ReadUInt16LittleEndian(bytes),
        (4, true) => BinaryPrimitives.ReadUInt32BigEndian(bytes),
        (4, false) => BinaryPrimitives.ReadUInt32LittleEndian(bytes),
        (_, true) => BinaryPrimitives.ReadUInt64BigEndian(bytes),
        _ => BinaryPrimitives.ReadUInt64LittleEndian(bytes),
    };

    private static byte[] Bytes(FileStream file, long at, long count)
    {
        if (at < 0 || count < 0 || at > file.Length - count)
            throw new InvalidDataException("it is cut off");
        byte[] bytes = new byte[count];
        file.Position = at;
        file.ReadExactly(bytes);
        return bytes;
    }
}
