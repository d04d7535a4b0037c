using System.Security.Cryptography;

namespace Undersand.Storage;

/// <summary>The folder <c>photographs</c> beside <c>judgements.gpkg</c>: pictures named by their SHA-256, added and never changed or taken away.</summary>
/// <param name="results">The results' folder.</param>
public sealed class PhotographFolder(string results)
{
    /// <summary>The folder's name.</summary>
    public const string Name = "photographs";

    /// <summary>The largest picture that is taken, bytes.</summary>
    public const int MostBytes = 20 << 20;

    /// <summary>Keeps a picture and gives its file name.</summary>
    /// <exception cref="SurveyException">It is no picture, too large, or the place can't be written to.</exception>
    public string Add(string named, ReadOnlyMemory<byte> bytes)
    {
        RequireSize(named, bytes.Length);
        if (PictureFile.Kind(bytes.Span) is not { } kind)
            throw new SurveyException(named, null, "this is no JPEG, PNG or WebP picture, whatever its name says", "choose another, or save it as one of these");
        string file = Convert.ToHexStringLower(SHA256.HashData(bytes.Span)) + kind.Ending, path = PathOf(file);
        if (!File.Exists(path))
            WholeFile.WriteBytes(path, bytes);
        return file;
    }

    /// <summary>Refuses a picture that is too large before its bytes are there.</summary>
    /// <exception cref="SurveyException">It is.</exception>
    public static void RequireSize(string named, long bytes)
    {
        if (bytes > MostBytes)
            throw new SurveyException(named, null, $"the picture is larger than {MostBytes >> 20} MB", "make it smaller first");
    }

    /// <summary>The path of a picture by its file name.</summary>
    public string PathOf(string file) => Path.Combine(results, Name, file);

    /// <summary>A picture's bytes; null where it is not there any more, or is no picture.</summary>
    public byte[]? Read(string file)
    {
        string path = PathOf(file);
        byte[]? bytes = Path.GetFileName(file) == file && File.Exists(path) ? File.ReadAllBytes(path) : null;
        return bytes is not null && PictureFile.Kind(bytes) is not null ? bytes : null;
    }
}
