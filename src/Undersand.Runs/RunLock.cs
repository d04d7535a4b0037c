using System.Text;

namespace Undersand.Runs;

/// <summary>Keeps a second run out of a results folder. The system lets go of it however the run ends.</summary>
internal sealed class RunLock : IDisposable
{
    public const string FileName = "undersand.lock.tmp";

    // errno EAGAIN of Linux and macOS, ERROR_SHARING_VIOLATION of Windows.
    private const int WouldBlock = 11, MacWouldBlock = 35, WindowsSharing = unchecked((int)0x80070020);

    private readonly FileStream _stream;

    private RunLock(string path, FileStream stream)
    {
        Path = path;
        _stream = stream;
    }

    public string Path { get; }

    /// <summary>Takes the lock, which shows at the same time that the folder can be written and the disk isn't full.</summary>
    /// <exception cref="SurveyException">Another run is at work there.</exception>
    public static RunLock Take(string folder, string named)
    {
        string path = System.IO.Path.Combine(folder, FileName);
        FileStream stream = OpenAlone(path, named);
        try
        {
            stream.Write(Encoding.ASCII.GetBytes(new string(' ', 4096)));
            stream.Flush(flushToDisk: true);
            return new RunLock(path, stream);
        }
        catch
        {
            CloseAndDelete(stream, path);
            throw;
        }
    }

    /// <summary>Whether a run is at work there. A lock that nobody holds is what a run left that was killed.</summary>
    public static bool IsHeld(string folder)
    {
        try
        {
            using FileStream free = new(System.IO.Path.Combine(folder, FileName), FileMode.Open, FileAccess.Read, FileShare.None);
            return false;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return IsOthers(e);
        }
    }

    public void Dispose() => CloseAndDelete(_stream, Path);

    private static bool IsOthers(Exception e) => e.HResult is WouldBlock or MacWouldBlock or WindowsSharing;

    private static FileStream OpenAlone(string path, string named)
    {
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (File.Exists(path) && IsOthers(e))
        {
            throw new SurveyException(named, null, "another run is writing to this folder", "wait until it is done, or choose another folder with --out", e);
        }
    }

    // Deleted while held, so that nobody's fresh lock is deleted by mistake; where a held file can't be deleted, right after.
    private static void CloseAndDelete(FileStream stream, string path)
    {
        if (!OperatingSystem.IsWindows())
            File.Delete(path);
        try
        {
            stream.Dispose();
        }
        catch (IOException e) when (DiskFaults.IsDiskFull(e))
        {
            // The blanks didn't fit; the file is gone already.
        }
        if (OperatingSystem.IsWindows())
            File.Delete(path);
    }
}
