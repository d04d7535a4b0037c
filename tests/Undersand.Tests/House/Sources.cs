using System.Text.RegularExpressions;

namespace Undersand.Tests.House;

/// <summary>The repository's own text files, for tests that keep the house in order.</summary>
internal static partial class Sources
{
    private static readonly string[] Ours = ["src", "tests", "bench", "docs", "examples", ".ci"];
    private static readonly string[] TextEndings = [".cs", ".csproj", ".props", ".slnx", ".md", ".json", ".py", ".sh", ".txt", ".cmd", ".html", ".svg", ".razor", ".ts", ".css", ".js"];

    /// <summary>The repository's root: the nearest folder upwards that holds the solution.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Every source file of ours below a folder, by its path within the repository.</summary>
    public static IEnumerable<string> CSharp(string folder) => Below(folder, "*.cs");

    /// <summary>Every text file of ours, by its path within the repository.</summary>
    public static IEnumerable<string> Texts() =>
        Ours.Where(f => Directory.Exists(Path.Combine(Root, f))).SelectMany(f => Below(f, "*"))
            .Concat(Directory.EnumerateFiles(Root).Select(f => Path.GetFileName(f)))
            .Where(f => TextEndings.Contains(Path.GetExtension(f)) || Path.GetFileName(f) is "run" or "undersand");

    /// <summary>A file's text.</summary>
    public static string Read(string file) => File.ReadAllText(Path.Combine(Root, file));

    /// <summary>A source file's code: comments and the content of texts are taken out, line breaks stay.</summary>
    public static string Code(string file) => NotCode().Replace(Read(file), match => match.Value[0] == '/' ? Blank(match.Value) : "\"" + Blank(match.Value) + "\"");

    [GeneratedRegex("""//[^\n]*|/\*.*?\*/|\$*\"\"\".*?\"\"\"|\$?@\$?"(?:[^"]|"")*"|\$?"(?:\\.|[^"\\\n])*"|'(?:\\.[^']*|[^'\\\n])'""", RegexOptions.Singleline)]
    private static partial Regex NotCode();

    private static string Blank(string text) => new('\n', text.Count(c => c == '\n'));

    private static IEnumerable<string> Below(string folder, string pattern) =>
        Directory.EnumerateFiles(Path.Combine(Root, folder), pattern, SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(Root, f).Replace('\\', '/'))
            .Where(f => !f.Split('/').Any(part => part is "bin" or "obj" or "node_modules" or "dist" or "artifacts" or "TestResults") && !f.Contains(".received.", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal);

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Undersand.slnx")))
                return folder.FullName;
        throw new InvalidOperationException("The tests must run from a folder below the repository's root.");
    }
}
