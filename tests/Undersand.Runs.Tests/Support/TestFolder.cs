namespace Undersand.Runs.Tests.Support;

/// <summary>A temporary folder, gone when the test is over.</summary>
internal sealed class TestFolder : IDisposable
{
    /// <summary>The folder's full path.</summary>
    public string Path { get; } = Directory.CreateTempSubdirectory("undersand-test-").FullName;

    /// <summary>A path in it.</summary>
    public string this[params string[] names] => System.IO.Path.Combine([Path, .. names]);

    /// <summary>Writes a file in it, with the folders above it.</summary>
    public string Write(string name, string text)
    {
        string path = this[name.Split('/')];
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>Every file in it, by its path within, with forward slashes, in order.</summary>
    public string[] Files() =>
        [.. Directory.EnumerateFiles(Path, "*", SearchOption.AllDirectories).Select(f => System.IO.Path.GetRelativePath(Path, f).Replace('\\', '/')).Order(StringComparer.Ordinal)];

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
