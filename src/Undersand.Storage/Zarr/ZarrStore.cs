using System.Buffers.Binary;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Undersand.Positioning;

namespace Undersand.Storage.Zarr;

/// <summary>The files of a Zarr 2 store around its chunks: made, compared, read back.</summary>
internal static class ZarrStore
{
    public const string MarksFolder = ".tiles";
    private const string Consolidated = ".zmetadata";
    private static readonly JsonSerializerOptions Json = new() { WriteIndented = true, NewLine = "\n", Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Makes the store, or leaves it as it is where it fits; the consolidated metadata come last and stand for the whole.</summary>
    public static void Prepare(string folder, ZarrLayout layout)
    {
        string metadata = ConsolidatedMetadata(layout);
        string path = Path.Combine(folder, Consolidated);
        if (File.Exists(path) && File.ReadAllText(path) == metadata)
            return;
        if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any())
            MakeRoom(folder, layout);
        WriteAll(folder, layout, metadata);
    }

    public static ZarrVolume Open(string folder)
    {
        string path = Path.Combine(folder, Consolidated);
        try
        {
            JsonNode metadata = JsonNode.Parse(File.ReadAllText(path))!["metadata"]!;
            IReadOnlyList<Look> looks = ReadLooks(folder, metadata);
            VoxelGrid grid = ReadGrid(folder, metadata);
            int epsg = (int)metadata["crs/.zattrs"]!["epsg"]!;
            string title = (string)metadata[".zattrs"]!["title"]!;
            if (!ProjectedCrs.TryFromEpsg(epsg, out ProjectedCrs? crs))
                throw new InvalidDataException($"EPSG:{epsg} is not known");
            return new ZarrVolume(folder, grid, looks, new ZarrLayout(folder, grid, looks, crs, title));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidDataException
            or NullReferenceException or InvalidOperationException or FormatException or ArgumentException)
        {
            throw new SurveyException(folder, null, $"this is no volume of ours, or it is damaged ({e.Message.TrimEnd('.')})", "process the survey again", e);
        }
    }

    // What is in the folder stays only if its tiles mean the same in the new store.
    private static void MakeRoom(string folder, ZarrLayout layout)
    {
        bool ours = File.Exists(Path.Combine(folder, ".zgroup"));
        if (!ours)
            throw new SurveyException(folder, null, "the folder holds something that is no volume", "move it away or choose another folder with --out");
        if (Fits(folder, layout))
            return;
        WholeFile.Guard(folder, () =>
        {
            File.Delete(Path.Combine(folder, Consolidated));
            string[] made = [MarksFolder, .. layout.Arrays.Select(a => a.Name)];
            foreach (string part in made.Select(name => Path.Combine(folder, name)).Where(Directory.Exists))
                Directory.Delete(part, recursive: true);
        });
    }

    private static bool Fits(string folder, ZarrLayout layout)
    {
        if (!File.Exists(Path.Combine(folder, Consolidated)))
            return false;
        try
        {
            ZarrVolume old = Open(folder);
            JsonNode oldCrs = JsonNode.Parse(File.ReadAllText(Path.Combine(folder, "crs", ".zattrs")))!;
            return old.Grid == layout.Grid && JsonNode.DeepEquals(oldCrs, layout.Arrays.Single(a => a.Name == "crs").Attributes)
                && old.Looks.SequenceEqual(layout.Looks.Take(old.Looks.Count));
        }
        catch (Exception e) when (e is SurveyException or IOException or JsonException)
        {
            return false;
        }
    }

    private static void WriteAll(string folder, ZarrLayout layout, string metadata)
    {
        WholeFile.WriteText(Path.Combine(folder, ".zgroup"), Group().ToJsonString(Json));
        WholeFile.WriteText(Path.Combine(folder, ".zattrs"), layout.Attributes.ToJsonString(Json));
        foreach (ZarrArray array in layout.Arrays)
        {
            WholeFile.WriteText(Path.Combine(array.Folder, ".zarray"), array.Metadata.ToJsonString(Json));
            WholeFile.WriteText(Path.Combine(array.Folder, ".zattrs"), array.Attributes.ToJsonString(Json));
        }

        foreach (var (array, chunk) in layout.Coordinates)
            WholeFile.WriteBytes(array.ChunkPath(0), ZarrArray.Compress(chunk));
        WholeFile.WriteText(Path.Combine(folder, Consolidated), metadata);
    }

    private static JsonObject Group() => new() { ["zarr_format"] = 2 };

    private static string ConsolidatedMetadata(ZarrLayout layout)
    {
        var all = new JsonObject { [".zattrs"] = layout.Attributes.DeepClone(), [".zgroup"] = Group() };
        foreach (ZarrArray array in layout.Arrays)
        {
            all[array.Name + "/.zarray"] = array.Metadata;
            all[array.Name + "/.zattrs"] = array.Attributes.DeepClone();
        }

        return new JsonObject { ["metadata"] = all, ["zarr_consolidated_format"] = 1 }.ToJsonString(Json);
    }

    private static List<Look> ReadLooks(string folder, JsonNode metadata)
    {
        int count = (int)metadata["look/.zarray"]!["shape"]![0]!;
        int length = int.Parse(((string)metadata["look_name/.zarray"]!["dtype"]!)[2..]);
        byte[] lines = Chunk(folder, "look_line", 4 * count), groups = Chunk(folder, "look_group", 4 * count), names = Chunk(folder, "look_name", 4 * length * count);
        return [.. Enumerable.Range(0, count).Select(i => new Look(
            i,
            BinaryPrimitives.ReadInt32LittleEndian(lines.AsSpan(4 * i)),
            BinaryPrimitives.ReadInt32LittleEndian(groups.AsSpan(4 * i)),
            Encoding.UTF32.GetString(names, 4 * length * i, 4 * length).TrimEnd('\0')))];
    }

    private static VoxelGrid ReadGrid(string folder, JsonNode metadata)
    {
        JsonNode shape = metadata["probability/.zarray"]!["shape"]!;
        int nz = (int)shape[0]!, ny = (int)shape[1]!, nx = (int)shape[2]!;
        double Origin(string name, int count) => BinaryPrimitives.ReadDoubleLittleEndian(Chunk(folder, name, 8 * count));
        double spacing = double.Parse(((string)metadata["crs/.zattrs"]!["GeoTransform"]!).Split(' ')[1]);
        return new VoxelGrid(Origin("easting", nx), Origin("northing", ny), spacing, nx, ny, nz, Origin("burial", nz));
    }

    private static byte[] Chunk(string folder, string name, int length)
    {
        byte[] bytes = new byte[length];
        string path = Path.Combine(folder, name, "0");
        return ZarrArray.TryRead(path, bytes) ? bytes : throw new InvalidDataException($"{name} is missing");
    }
}
