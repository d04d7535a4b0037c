using System.Security.Cryptography;

namespace Undersand.Storage.Surveys;

/// <summary>A file that a survey was read from.</summary>
public sealed class InputFile
{
    private readonly Lazy<string> _sha256;

    internal InputFile(string folder, string path)
    {
        Path = path;
        string full = System.IO.Path.Combine(folder, path);
        Bytes = new FileInfo(full).Length;
        _sha256 = new(() => Hash(full, path));
    }

    /// <summary>Its path within the survey's folder, with forward slashes.</summary>
    public string Path { get; }

    /// <summary>Its size.</summary>
    public long Bytes { get; }

    /// <summary>Its SHA-256 in lower-case hexadecimal; computed when first asked for, reading the whole file once.</summary>
    /// <exception cref="SurveyException">The file can't be read any more.</exception>
    public string Sha256 => _sha256.Value;

    private static string Hash(string full, string name)
    {
        try
        {
            using FileStream stream = new(full, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1 << 20, FileOptions.SequentialScan);
            return Convert.ToHexStringLower(SHA256.HashData(stream));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new SurveyException(name, null, "the file can't be read", "check that it exists and may be read", e);
        }
    }
}
