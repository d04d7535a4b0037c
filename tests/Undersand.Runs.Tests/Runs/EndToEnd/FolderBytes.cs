using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Nodes;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>What a folder holds, file by file, for telling whether two hold the same.</summary>
internal static class FolderBytes
{
    /// <summary>SHA-256 of each file, by its path within.</summary>
    public static SortedDictionary<string, string> Of(string folder)
    {
        var hashes = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (string file in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
            hashes[Path.GetRelativePath(folder, file).Replace('\\', '/')] = new FileInfo(file).LinkTarget ?? Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(file)));
        return hashes;
    }

    /// <summary>The contract's “same bytes”: every file but the timings in run.json; the PDF as pictures.</summary>
    public static void AssertSameResults(string expected, string actual)
    {
        SortedDictionary<string, string> a = Of(expected), b = Of(actual);
        Assert.Equal(a.Keys, b.Keys);
        string[] differing = [.. a.Keys.Where(file => a[file] != b[file] && file is not ("run.json" or "report.pdf"))];
        Assert.True(differing.Length == 0, $"not the same bytes: {string.Join(", ", differing)}");
        Assert.Equal(WithoutTimings(expected), WithoutTimings(actual));
        AssertSamePictures(Path.Combine(expected, "report.pdf"), Path.Combine(actual, "report.pdf"));
    }

    private static string WithoutTimings(string results)
    {
        JsonNode record = JsonNode.Parse(File.ReadAllText(Path.Combine(results, "run.json")))!;
        Assert.True(record.AsObject().Remove("timings"));
        return record.ToJsonString(new JsonSerializerOptions { WriteIndented = true });
    }

    private static void AssertSamePictures(string expected, string actual)
    {
        using var folder = new TestFolder();
        OutsideReader.RunTool("pdftoppm", "poppler-utils", "-r", "50", expected, folder["a"]);
        OutsideReader.RunTool("pdftoppm", "poppler-utils", "-r", "50", actual, folder["b"]);
        string[] pages = [.. folder.Files().Where(f => f.StartsWith('a'))];
        Assert.NotEmpty(pages);
        Assert.Equal(2 * pages.Length, folder.Files().Length);
        Assert.All(pages, page => Assert.Equal(File.ReadAllBytes(folder[page]), File.ReadAllBytes(folder["b" + page[1..]])));
    }
}
