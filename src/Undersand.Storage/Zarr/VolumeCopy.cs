namespace Undersand.Storage.Zarr;

/// <summary>Brings a volume's folder to where a newer one is, so that a run there need not make again what has been made.</summary>
/// <remarks>What differs in length or date is copied. The consolidated metadata go first and come last: until a copy has come to its end, the folder is no volume.</remarks>
public static class VolumeCopy
{
    /// <summary>Copies what differs.</summary>
    /// <param name="newer">The folder to follow; where it is no volume, nothing is done.</param>
    /// <param name="older">The folder to bring there; made if missing.</param>
    /// <param name="progress">Told the fraction done.</param>
    /// <param name="cancellation">Stops between files.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void Follow(string newer, string older, IProgress<double> progress, CancellationToken cancellation)
    {
        if (!File.Exists(Path.Combine(newer, ZarrStore.Consolidated)))
            return;
        WholeFile.MakeFolder(older);
        WholeFile.Guard(older, () => File.Delete(Path.Combine(older, ZarrStore.Consolidated)));
        SortedDictionary<string, FileInfo> wanted = FilesOf(newer), there = FilesOf(older);
        foreach (string gone in there.Keys.Except(wanted.Keys))
            WholeFile.Guard(older, there[gone].Delete);
        string[] behind = [.. wanted.Keys.Where(name => name != ZarrStore.Consolidated && !IsSame(wanted[name], there.GetValueOrDefault(name))), ZarrStore.Consolidated];
        foreach (var (i, name) in behind.Index())
        {
            cancellation.ThrowIfCancellationRequested();
            WholeFile.WriteThrough(Path.Combine(older, name), unfinished => wanted[name].CopyTo(unfinished, overwrite: true));
            progress.Report((i + 1.0) / behind.Length);
        }
    }

    private static bool IsSame(FileInfo newer, FileInfo? older) => older is not null && newer.Length == older.Length && newer.LastWriteTimeUtc == older.LastWriteTimeUtc;

    private static SortedDictionary<string, FileInfo> FilesOf(string folder) => new(new DirectoryInfo(folder).EnumerateFiles("*", SearchOption.AllDirectories).ToDictionary(f => Path.GetRelativePath(folder, f.FullName)), StringComparer.Ordinal);
}
