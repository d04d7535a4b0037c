using System.Diagnostics;

namespace Undersand.Runs.Tests.Support;

/// <summary>A file system of a few kilobytes, to see what happens on a full and on a read-only disk.</summary>
internal sealed class SmallDisk : IDisposable
{
    private readonly string _folder;

    private SmallDisk(string folder) => _folder = folder;

    /// <summary>Mounts one; null where that isn't allowed.</summary>
    public static SmallDisk? TryMount(string folder, int kilobytes = 64)
    {
        Directory.CreateDirectory(folder);
        return Run("mount", "-t", "tmpfs", "-o", $"size={kilobytes}k", "tmpfs", folder) ? new SmallDisk(folder) : null;
    }

    public void MakeReadOnly() => Assert.True(Run("mount", "-o", "remount,ro", _folder));

    /// <summary>Makes it larger.</summary>
    public void Resize(int kilobytes) => Assert.True(Run("mount", "-o", $"remount,size={kilobytes}k", _folder));

    public void Fill()
    {
        using var file = new FileStream(Path.Combine(_folder, "filler"), FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
        byte[] block = new byte[4096];
        try
        {
            while (true)
                file.Write(block);
        }
        catch (IOException)
        {
            // Full: as it should be.
        }
    }

    public void Dispose() => Run("umount", _folder);

    private static bool Run(string program, params string[] args)
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(program, args) { RedirectStandardError = true, RedirectStandardOutput = true })!;
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
