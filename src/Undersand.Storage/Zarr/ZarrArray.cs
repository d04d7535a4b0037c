using System.Globalization;
using System.IO.Compression;
using System.Text.Json.Nodes;

namespace Undersand.Storage.Zarr;

/// <summary>One array of a Zarr 2 store: its metadata and its chunks' bytes. Zarr specification version 2, “Arrays”.</summary>
/// <param name="Folder">Where it lies.</param>
/// <param name="DataType">NumPy's type string, little-endian.</param>
/// <param name="Shape">Sizes of its dimensions, slowest first.</param>
/// <param name="Chunks">Sizes of a chunk.</param>
/// <param name="Fill">What an absent chunk holds.</param>
/// <param name="Attributes">Its attributes, with <c>_ARRAY_DIMENSIONS</c>.</param>
internal sealed record ZarrArray(string Folder, string DataType, int[] Shape, int[] Chunks, JsonNode? Fill, JsonObject Attributes)
{
    // Level 1 is some six times faster than level 6 on sums, and 5 % larger.
    private static readonly ZLibCompressionOptions Level = new() { CompressionLevel = 1 };

    public string Name => Path.GetFileName(Folder);

    public JsonObject Metadata => new()
    {
        ["chunks"] = Numbers(Chunks),
        ["compressor"] = new JsonObject { ["id"] = "zlib", ["level"] = 1 },
        ["dimension_separator"] = ".",
        ["dtype"] = DataType,
        ["fill_value"] = Fill?.DeepClone(),
        ["filters"] = null,
        ["order"] = "C",
        ["shape"] = Numbers(Shape),
        ["zarr_format"] = 2,
    };

    public string ChunkPath(params ReadOnlySpan<int> index)
    {
        var parts = new string[index.Length];
        for (int i = 0; i < parts.Length; i++)
            parts[i] = index[i].ToString(CultureInfo.InvariantCulture);
        return Path.Combine(Folder, string.Join('.', parts));
    }

    public static byte[] Compress(ReadOnlySpan<byte> bytes)
    {
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, Level, leaveOpen: true))
            zlib.Write(bytes);
        return packed.ToArray();
    }

    /// <summary>Reads a chunk into bytes of exactly its length; false where it is absent.</summary>
    /// <exception cref="SurveyException">The chunk is not what was written.</exception>
    public static bool TryRead(string path, Span<byte> bytes)
    {
        try
        {
            using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 1 << 16);
            using var zlib = new ZLibStream(file, CompressionMode.Decompress);
            if (zlib.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false) == bytes.Length && zlib.ReadByte() < 0)
                return true;
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return false;
        }
        catch (InvalidDataException e)
        {
            throw Damaged(path, e);
        }

        throw Damaged(path, null);
    }

    private static SurveyException Damaged(string path, Exception? inner) =>
        new(path, null, "this chunk of the volume is damaged", "delete it and run the same command again", inner);

    private static JsonArray Numbers(int[] values) => new([.. values.Select(v => (JsonNode)v)]);
}
