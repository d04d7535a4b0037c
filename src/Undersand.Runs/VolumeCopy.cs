namespace Undersand.Runs;

/// <summary>Brings a volume's folder to where a newer one is, so that the next run there need not make again what has been made.</summary>
/// <remarks>What differs in length or date is copied. The consolidated metadata go first and come last: a copy that was cut short is no volume, and the next run makes it from nothing.</remarks>
internal static class VolumeCopy
{
    private const string Whole = ".zmetadata";

    /// <param name="newer">The folder to follow; where it is no volume, nothing is done.</param>
    /// <param name="older">The folder to bring there; made if missing.</param>
    /// <exception cref="IOException">A file can't be read or written.</exception>
    public static void Follow(string newer, string older)
    {
        if (!File.Exists(Path.Combine(newer, Whole)))
            return;
        Directory.CreateDirectory(older);
        File.Delete(Path.Combine(older, Whole));
        SortedDictionary<string, FileInfo> wanted = FilesOf(newer), there = FilesOf(older);
        foreach (string gone in there.Keys.Except(wanted.Keys))
            there[gone].Delete();
        foreach (var (name, file) in wanted.Where(f => f.Key != Whole && !IsSame(f.Value, there.GetValueOrDefault(f.Key))).Append(new(Whole, wanted[Whole])))
        {
            string to = Path.Combine(older, name);
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            file.CopyTo(to, overwrite: true);
        }
    }

    private static bool IsSame(FileInfo newer, FileInfo? older) => older is not null && newer.Length == older.Length && newer.LastWriteTimeUtc == older.LastWriteTimeUtc;

    private static SortedDictionary<string, FileInfo> FilesOf(string folder) => new(
        (Directory.Exists(folder) ? new DirectoryInfo(folder).EnumerateFiles("*", SearchOption.AllDirectories) : []).ToDictionary(f => Path.GetRelativePath(folder, f.FullName)), StringComparer.Ordinal);
}
