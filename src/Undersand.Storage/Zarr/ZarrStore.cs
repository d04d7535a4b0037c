using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Undersand.Positioning;

namespace Undersand.Storage.Zarr;

/// <summary>The files of a Zarr 2 store around its chunks: made, compared, read back.</summary>
internal static class ZarrStore
{
    public const string MarksFolder = ".tiles";
    internal const string Consolidated = ".zmetadata";
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
        Moved? moved = MovedTo(folder, layout);
        if (moved is { East: 0, North: 0 } && moved.Looks.Index().All(l => l.Index == l.Item))
            return;
        WholeFile.Guard(folder, () =>
        {
            File.Delete(Path.Combine(folder, Consolidated));
            string[] made = [.. layout.Arrays.Select(a => Path.Combine(folder, a.Name)), Path.Combine(folder, MarksFolder)];
            foreach (string part in made.Where(Directory.Exists))
                if (moved is not null)
                    Move(part, moved, layout.Grid);
                else
                    Directory.Delete(part, recursive: true);
        });
    }

    // By how many tiles those of a store lie farther from a new grid's corner, and which index each of its looks has in the new store; −1 for one that is there no more.
    private sealed record Moved(int East, int North, int[] Looks);

    // Chunks of tiles, whose names end in the tile's row and column and begin with the look where they have four parts; and marks, of column and row.
    private static void Move(string folder, Moved moved, VoxelGrid grid)
    {
        bool isMarks = Path.GetFileName(folder) == MarksFolder;
        string aside = folder + WholeFile.UnfinishedSuffix;
        if (Directory.Exists(aside))
            Directory.Delete(aside, recursive: true);
        Directory.Move(folder, aside);
        Directory.CreateDirectory(folder);
        foreach (string file in Directory.EnumerateFiles(aside))
        {
            string[] parts = Path.GetFileName(file).Split('.');
            int atX = isMarks ? 0 : parts.Length - 1, atY = isMarks ? 1 : parts.Length - 2;
            if (parts.Length < 2 || !int.TryParse(parts[atX], out int x) || !int.TryParse(parts[atY], out int y))
                continue;
            (x, y) = (x + moved.East, y + moved.North);
            int look = parts.Length == 4 && int.TryParse(parts[0], out int was) && was < moved.Looks.Length ? moved.Looks[was] : 0;
            if (x < 0 || y < 0 || x >= grid.TilesX || y >= grid.TilesY || look < 0)
                continue;
            if (parts.Length == 4)
                parts[0] = look.ToString(CultureInfo.InvariantCulture);
            (parts[atX], parts[atY]) = (x.ToString(CultureInfo.InvariantCulture), y.ToString(CultureInfo.InvariantCulture));
            File.Move(file, Path.Combine(folder, string.Join('.', parts)));
        }
        Directory.Delete(aside, recursive: true);
    }

    // Null where the store's tiles don't mean the same in the new one.
    private static Moved? MovedTo(string folder, ZarrLayout layout)
    {
        if (!File.Exists(Path.Combine(folder, Consolidated)))
            return null;
        try
        {
            ZarrVolume old = Open(folder);
            JsonNode oldCrs = JsonNode.Parse(File.ReadAllText(Path.Combine(folder, "crs", ".zattrs")))!, crs = layout.Arrays.Single(a => a.Name == "crs").Attributes;
            if ((string)oldCrs["crs_wkt"]! != (string)crs["crs_wkt"]!)
                return null;
            return layout.Grid.StepsTo(old.Grid) is var (columns, rows) && columns % VoxelGrid.TileSize == 0 && rows % VoxelGrid.TileSize == 0
                ? new Moved(columns / VoxelGrid.TileSize, rows / VoxelGrid.TileSize, [.. old.Looks.Select(o => layout.Looks.FirstOrDefault(l => (l.Name, l.Group) == (o.Name, o.Group))?.Index ?? -1)])
                : null;
        }
        catch (Exception e) when (e is SurveyException or IOException or JsonException or NullReferenceException)
        {
            return null;
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
