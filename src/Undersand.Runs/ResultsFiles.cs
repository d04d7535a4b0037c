namespace Undersand.Runs;

/// <summary>The files of a results folder that are ours: nothing else in it is ever touched.</summary>
internal static class ResultsFiles
{
    public const string Record = "run.json";
    public const string Sums = "SHA256SUMS";
    public const string Volume = "volume.zarr";
    private const string Unfinished = ".tmp";

    private static readonly string[] Files = ["survey.gpkg", "targets.geojson", "targets.csv", "report.html", "report.pdf", Sums, Record];
    private static readonly string[] Folders = [Volume, "maps"];

    /// <summary>Our files that are there, by full path, whole and unfinished ones.</summary>
    public static HashSet<string> Present(string path)
    {
        var present = new HashSet<string>(StringComparer.Ordinal);
        foreach (string file in Directory.EnumerateFiles(path).Where(IsOurs))
            present.Add(file);
        foreach (string folder in OurFolders(path))
            present.UnionWith(Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories));
        return present;
    }

    /// <summary>Our files that stay as they were written, by path within with forward slashes, in order: all but <see cref="Record"/> and the sums themselves.</summary>
    public static IEnumerable<string> Lasting(string path) => Present(path)
        // GDAL keeps what it worked out about a map beside it.
        .Where(f => !IsUnfinished(f) && !f.EndsWith(".aux.xml", StringComparison.Ordinal))
        .Select(f => Path.GetRelativePath(path, f).Replace('\\', '/'))
        .Where(f => f is not (Record or Sums))
        .Order(StringComparer.Ordinal);

    /// <summary>Deletes what an interrupted run left half written.</summary>
    /// <param name="path">The results folder.</param>
    /// <param name="except">The lock of this run.</param>
    public static void DeleteUnfinished(string path, string except)
    {
        foreach (string file in Present(path).Where(f => IsUnfinished(f) && f != except))
            File.Delete(file);
        foreach (string folder in OurFolders(path).Concat(UnfinishedFolders(path)))
            if (folder.EndsWith(Unfinished, StringComparison.Ordinal))
                Directory.Delete(folder, recursive: true);
    }

    /// <summary>Removes our folders, and those in them, that hold nothing.</summary>
    public static void RemoveEmptyFolders(string path)
    {
        foreach (string folder in OurFolders(path))
        {
            var below = Directory.EnumerateDirectories(folder, "*", SearchOption.AllDirectories).OrderByDescending(f => f.Length).ToList();
            FolderPlaces.RemoveEmpty([.. below, folder]);
        }
    }

    // A database keeps a journal beside its unfinished file: survey.gpkg.tmp-journal.
    private static bool IsUnfinished(string file) =>
        file.EndsWith(Unfinished, StringComparison.Ordinal) || Path.GetFileName(file).Contains(Unfinished + "-", StringComparison.Ordinal);

    // survey.gpkg, survey.gpkg.tmp, survey.gpkg.tmp-journal, undersand.lock.tmp
    private static bool IsOurs(string file)
    {
        string name = Path.GetFileName(file);
        return name == RunLock.FileName || Files.Any(f => name == f || name.StartsWith(f + Unfinished, StringComparison.Ordinal));
    }

    private static IEnumerable<string> OurFolders(string path) =>
        Folders.SelectMany(f => new[] { f, f + Unfinished }).Select(f => Path.Combine(path, f)).Where(Directory.Exists);

    private static List<string> UnfinishedFolders(string path) =>
        [.. Folders.Select(f => Path.Combine(path, f)).Where(Directory.Exists)
            .SelectMany(f => Directory.EnumerateDirectories(f, "*" + Unfinished, SearchOption.AllDirectories))];
}
