using System.Text;

namespace Undersand.Storage;

/// <summary>Files that are there whole or not at all: written to <c>name.tmp</c>, flushed to disk, renamed.</summary>
/// <remarks>A full disk, a read-only place and a forbidden one become a <see cref="SurveyException"/>; the unfinished file is taken away.</remarks>
public static class WholeFile
{
    /// <summary>Ending of a file that isn't finished.</summary>
    public const string UnfinishedSuffix = ".tmp";

    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    /// <summary>Writes a file through a stream that can seek.</summary>
    /// <param name="path">The file; replaced if it exists. Its folder is made if missing.</param>
    /// <param name="write">Writes the content; must not close the stream.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void Write(string path, Action<Stream> write) =>
        WriteThrough(path, unfinished =>
        {
            using var file = new FileStream(unfinished, FileMode.Create, FileAccess.ReadWrite, FileShare.None, 1 << 16);
            write(file);
            file.Flush(flushToDisk: true);
        });

    /// <summary>Writes text as UTF-8 without a byte-order mark.</summary>
    /// <param name="path">The file.</param>
    /// <param name="text">Its text; line ends are kept as they are.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void WriteText(string path, string text) => WriteBytes(path, Utf8.GetBytes(text));

    /// <summary>Writes bytes.</summary>
    /// <param name="path">The file.</param>
    /// <param name="bytes">Its content.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void WriteBytes(string path, ReadOnlyMemory<byte> bytes) => Write(path, file => file.Write(bytes.Span));

    /// <summary>Writes a file by means that need a path of their own (a database).</summary>
    /// <param name="path">The file; replaced if it exists. Its folder is made if missing.</param>
    /// <param name="write">Writes the file at the path given, which is not <paramref name="path"/>, and closes it.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void WriteThrough(string path, Action<string> write) => Guard(path, () =>
    {
        string unfinished = path + UnfinishedSuffix;
        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
        try
        {
            write(unfinished);
            File.Move(unfinished, path, overwrite: true);
        }
        catch
        {
            TakeAway(unfinished);
            throw;
        }
    });

    /// <summary>Makes a folder, if it isn't there.</summary>
    /// <exception cref="SurveyException">It can't be made.</exception>
    public static void MakeFolder(string folder) => Guard(folder, () => Directory.CreateDirectory(folder));

    /// <summary>Takes away what a run that was killed left unfinished below a folder; returns the number of files.</summary>
    /// <exception cref="SurveyException">One can't be taken away.</exception>
    public static int RemoveUnfinished(string folder)
    {
        int count = 0;
        Guard(folder, () =>
        {
            foreach (string file in Directory.Exists(folder) ? Directory.GetFiles(folder, "*" + UnfinishedSuffix, SearchOption.AllDirectories) : [])
            {
                File.Delete(file);
                count++;
            }
        });
        return count;
    }

    /// <summary>Does something to a file or folder of the results, and says in one sentence why it can't be done.</summary>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void Guard(string path, Action action)
    {
        try
        {
            action();
        }
        catch (Exception e) when (WriteFailure.Explain(e) is not null)
        {
            var (wrong, mend) = WriteFailure.Explain(e)!.Value;
            throw new SurveyException(path, null, wrong, mend, e);
        }
    }

    private static void TakeAway(string unfinished)
    {
        try
        {
            File.Delete(unfinished);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The first failure is the one to report; RemoveUnfinished gets what is left.
        }
    }
}
