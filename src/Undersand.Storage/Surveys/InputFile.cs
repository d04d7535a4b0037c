using System.Security.Cryptography;

namespace Undersand.Storage.Surveys;

/// <summary>A file that a survey was read from.</summary>
public sealed class InputFile
{
    private const int Block = 1 << 20;
    private readonly string _full;

    internal InputFile(string folder, string path)
    {
        Path = path;
        _full = System.IO.Path.Combine(folder, path);
        Bytes = new FileInfo(_full).Length;
    }

    /// <summary>Its path within the survey's folder, with forward slashes.</summary>
    public string Path { get; }

    /// <summary>Its size.</summary>
    public long Bytes { get; }

    /// <summary>Reads the file through once, in blocks, and hashes it.</summary>
    /// <param name="read">Hears of the bytes of each block, or null.</param>
    /// <param name="cancellation">Stops between blocks.</param>
    /// <returns>Its SHA-256 in lower-case hexadecimal, 64 digits.</returns>
    /// <exception cref="SurveyException">The file can't be read any more.</exception>
    public string Sha256(Action<int>? read = null, CancellationToken cancellation = default)
    {
        try
        {
            using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            using FileStream stream = new(_full, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0);
            byte[] block = new byte[Block];
            while (stream.Read(block) is > 0 and int bytes)
            {
                cancellation.ThrowIfCancellationRequested();
                hash.AppendData(block, 0, bytes);
                read?.Invoke(bytes);
            }
            return Convert.ToHexStringLower(hash.GetHashAndReset());
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new SurveyException(Path, null, "the file can't be read", "check that it exists and may be read", e);
        }
    }
}
