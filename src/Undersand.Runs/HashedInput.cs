using System.Security.Cryptography;

namespace Undersand.Runs;

/// <summary>A file that a run read.</summary>
/// <param name="File">Its path within the survey's folder, with forward slashes.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">SHA-256 of its content, 64 hexadecimal digits.</param>
public sealed record HashedInput(string File, long Bytes, string Sha256)
{
    private const int Block = 1 << 20;

    /// <summary>True for a recording, by its name.</summary>
    public bool IsRecording => File.EndsWith(".sgy", StringComparison.OrdinalIgnoreCase);

    /// <summary>Reads files through once, in blocks, and hashes them.</summary>
    /// <param name="survey">The survey's folder.</param>
    /// <param name="files">Paths within it.</param>
    /// <param name="progress">Hears of each megabyte.</param>
    /// <param name="cancellation">Stops between blocks.</param>
    /// <returns>The files, in the order of their names.</returns>
    public static IReadOnlyList<HashedInput> Hash(string survey, IEnumerable<string> files, IProgressSink progress, CancellationToken cancellation)
    {
        List<string> ordered = [.. files.Select(f => f.Replace('\\', '/')).Order(StringComparer.Ordinal)];
        progress.Begin("Reading the inputs through", ordered.Sum(f => new FileInfo(Path.Combine(survey, f)).Length) / 1e6, "MB");
        return [.. ordered.Select(f => HashOne(survey, f, progress, cancellation))];
    }

    private static HashedInput HashOne(string survey, string file, IProgressSink progress, CancellationToken cancellation)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using FileStream stream = new(Path.Combine(survey, file), FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0);
        byte[] block = new byte[Block];
        long bytes = 0;
        while (stream.Read(block) is > 0 and int read)
        {
            cancellation.ThrowIfCancellationRequested();
            hash.AppendData(block, 0, read);
            bytes += read;
            progress.Advance(read / 1e6);
        }
        return new HashedInput(file, bytes, Convert.ToHexStringLower(hash.GetHashAndReset()));
    }
}
