namespace Undersand.Runs;

/// <summary>Writes a file whole or not at all.</summary>
internal static class WholeFile
{
    /// <summary>Writes beside the file, sees it through to the disk, then renames.</summary>
    public static void Write(string path, ReadOnlySpan<byte> content)
    {
        string unfinished = path + ".tmp";
        try
        {
            using (var stream = new FileStream(unfinished, FileMode.Create, FileAccess.Write, FileShare.None))
            {
                stream.Write(content);
                stream.Flush(flushToDisk: true);
            }
            File.Move(unfinished, path, overwrite: true);
        }
        catch
        {
            File.Delete(unfinished);
            throw;
        }
    }
}
