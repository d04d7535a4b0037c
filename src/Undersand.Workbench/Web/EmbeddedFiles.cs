using System.Reflection;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http;
using Undersand.Runs.Reporting;

using Answer = Microsoft.AspNetCore.Http.Results;

namespace Undersand.Workbench.Web;

/// <summary>Styles, scripts and fonts that the program carries in itself, so that nothing depends on where it was started.</summary>
internal static class EmbeddedFiles
{
    private static readonly Dictionary<string, (Assembly Assembly, string Resource)> _files = Find();

    /// <summary>Whether the bundled client is among them.</summary>
    public static bool HasClient { get; } = _files.ContainsKey("client/workbench.js");

    /// <summary>Changes with the files: put behind their names, so that browsers keep them for good.</summary>
    public static string Version { get; } = Hash();

    public static IResult Get(string path, HttpContext context)
    {
        if (!_files.TryGetValue(path, out var file))
            return Answer.NotFound();
        context.Response.Headers.CacheControl = context.Request.Query.ContainsKey("v") || path.StartsWith("client/", StringComparison.Ordinal) && path.Contains('-', StringComparison.Ordinal)
            ? "public, max-age=31536000, immutable" : "no-cache";
        return Answer.Stream(file.Assembly.GetManifestResourceStream(file.Resource)!, TypeOf(path));
    }

    /// <summary>One of them to be read here.</summary>
    public static string Text(string path)
    {
        var (assembly, resource) = _files[path];
        using var reader = new StreamReader(assembly.GetManifestResourceStream(resource)!);
        return reader.ReadToEnd();
    }

    private static Dictionary<string, (Assembly, string)> Find()
    {
        Assembly ours = typeof(EmbeddedFiles).Assembly, runs = typeof(ColourMap).Assembly;
        var files = new Dictionary<string, (Assembly, string)>(StringComparer.Ordinal);
        foreach (string name in ours.GetManifestResourceNames())
            if (name.StartsWith("Assets.", StringComparison.Ordinal))
                files["assets/" + name["Assets.".Length..]] = (ours, name);
            else if (name.StartsWith("Client.", StringComparison.Ordinal))
                files["client/" + name["Client.".Length..].Replace('\\', '/')] = (ours, name);
        foreach (string name in runs.GetManifestResourceNames().Where(n => n.EndsWith(".woff2", StringComparison.Ordinal)))
            files["assets/" + name["Reporting.Fonts.".Length..]] = (runs, name);
        return files;
    }

    private static string Hash()
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var (name, file) in _files.OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            using Stream stream = file.Assembly.GetManifestResourceStream(file.Resource)!;
            hash.AppendData(SHA256.HashData(stream));
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset())[..12];
    }

    private static string TypeOf(string path) => Path.GetExtension(path) switch
    {
        ".js" => "text/javascript; charset=utf-8",
        ".css" => "text/css; charset=utf-8",
        ".woff2" => "font/woff2",
        ".svg" => "image/svg+xml",
        _ => "application/octet-stream",
    };
}
