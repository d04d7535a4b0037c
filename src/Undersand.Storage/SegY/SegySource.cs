using Microsoft.Win32.SafeHandles;

namespace Undersand.Storage.SegY;

/// <summary>An open file, read at any place by any thread.</summary>
internal sealed class SegySource : IDisposable
{
    private readonly SafeFileHandle _handle;

    /// <param name="path">Where it lies.</param>
    /// <param name="name">How the user knows it, for messages.</param>
    public SegySource(string path, string name)
    {
        Name = name;
        try
        {
            _handle = File.OpenHandle(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, FileOptions.RandomAccess);
            Length = RandomAccess.GetLength(_handle);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw new SurveyException(name, null, "the file can't be opened", "check that it exists and may be read", e);
        }
    }

    public string Name { get; }

    public long Length { get; }

    /// <summary>Reads as many bytes as there are, up to the buffer's length.</summary>
    public int Read(long position, Span<byte> buffer)
    {
        int total = 0;
        try
        {
            while (total < buffer.Length)
            {
                int n = RandomAccess.Read(_handle, buffer[total..], position + total);
                if (n == 0)
                    break;
                total += n;
            }
        }
        catch (IOException e)
        {
            throw new SurveyException(Name, $"byte {position + total + 1}", "the file can't be read", "copy it to a sound disk", e);
        }
        return total;
    }

    public void ReadExactly(long position, Span<byte> buffer)
    {
        if (Read(position, buffer) < buffer.Length)
            throw new SurveyException(Name, $"byte {position + buffer.Length}", "the file has become shorter since it was opened", "process again when nobody writes to it");
    }

    public void Dispose() => _handle.Dispose();
}
