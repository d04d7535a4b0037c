using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Nodes;

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

    /// <summary>The contract's “same bytes”: every file but the timings in run.json.</summary>
    public static void AssertSameResults(string expected, string actual)
    {
        SortedDictionary<string, string> a = Of(expected), b = Of(actual);
        Assert.Equal(a.Keys, b.Keys);
        string[] differing = [.. a.Keys.Where(file => a[file] != b[file] && file != "run.json")];
        Assert.True(differing.Length == 0, $"not the same bytes: {string.Join(", ", differing)}");
        Assert.Equal(WithoutTimings(expected), WithoutTimings(actual));
    }

    private static string WithoutTimings(string results)
    {
        JsonNode record = JsonNode.Parse(File.ReadAllText(Path.Combine(results, "run.json")))!;
        Assert.True(record.AsObject().Remove("timings"));
        return record.ToJsonString(new JsonSerializerOptions { WriteIndented = true });
    }
}
