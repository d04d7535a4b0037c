// Makes archives of the program that run without SDK and Node, the workbench's client inside.
//   dotnet run packaging/archives.cs                        for all machines
//   dotnet run packaging/archives.cs -- linux-x64 win-x64   for some
// They go to artifacts/archives, with their SHA-256 beside them. Ends with 1 where one that was named, or Linux x64, could not be made, with 2 where something is missing.

using System.Diagnostics;
using System.Formats.Tar;
using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using System.Text;

string[] all = ["linux-x64", "linux-arm64", "win-x64", "osx-arm64", "osx-x64"];
string root = Path.GetFullPath(Path.Combine(Here(), "..")), made = Path.Combine(root, "artifacts", "archives");
Directory.CreateDirectory(made);
if (args.Except(all).FirstOrDefault() is { } unknown)
    return Fail($"“{unknown}” is none of {string.Join(", ", all)}.");
string? licences = null;
foreach (string machine in args.Length > 0 ? args : all)
{
    string stage = Path.Combine(made, machine);
    if (Directory.Exists(stage))
        Directory.Delete(stage, recursive: true);
    var (code, said) = Run("dotnet", "publish", Path.Combine(root, "src", "Undersand.App"), "-c", "Release", "-r", machine, "--self-contained", "-p:PublishSingleFile=true", "-p:DebugType=none", "-p:PublishDocumentationFiles=false", "-p:AllowedReferenceRelatedFileExtensions=none", "-o", stage, "-nologo", "-v", "quiet");
    if (code != 0)
    {
        Console.Error.WriteLine($"{machine}: not made. {said.Split('\n').FirstOrDefault(l => l.Contains("error", StringComparison.Ordinal))?.Trim()}");
        if (args.Length > 0 || machine == "linux-x64")
            return 1;
        continue;
    }
    if (!File.Exists(Path.Combine(root, "artifacts", "obj", "Undersand.Workbench", "client", "built.stamp")))
        return Fail("The workbench's client was not bundled: install Node 20.19 or later with npm, and try again.");
    bool windows = machine.StartsWith("win", StringComparison.Ordinal);
    string program = windows ? "undersand.exe" : "undersand", version = FileVersionInfo.GetVersionInfo(Path.Combine(root, "artifacts", "bin", "Undersand.App", $"release_{machine}", "Undersand.App.dll")).ProductVersion!.Split('+')[0];
    File.Move(Path.Combine(stage, windows ? "Undersand.App.exe" : "Undersand.App"), Path.Combine(stage, program));
    foreach (string text in (string[])["README.md", "LICENSE", "CHANGELOG.md"])
        File.Copy(Path.Combine(root, text), Path.Combine(stage, text));
    File.WriteAllText(Path.Combine(stage, "LICENCES-OF-PARTS.txt"), licences ??= Licences());
    string name = $"undersand-{version}-{machine}", archive = Path.Combine(made, name + (windows ? ".zip" : ".tar.gz"));
    Pack(stage, name, program, archive);
    Directory.Delete(stage, recursive: true);
    string sum = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(archive)));
    File.WriteAllText(archive + ".sha256", $"{sum}  {Path.GetFileName(archive)}\n");
    Console.WriteLine($"{Path.GetRelativePath(Environment.CurrentDirectory, archive)}  {new FileInfo(archive).Length / 1e6:0} MB");
}
return 0;

// The program's file may be run by everyone, whatever machine the archive was made on.
static void Pack(string stage, string name, string program, string archive)
{
    IEnumerable<string> files = Directory.EnumerateFiles(stage).Order(StringComparer.Ordinal);
    using FileStream file = File.Create(archive);
    if (archive.EndsWith(".zip", StringComparison.Ordinal))
    {
        using var zip = new ZipArchive(file, ZipArchiveMode.Create);
        foreach (string path in files)
            zip.CreateEntryFromFile(path, $"{name}/{Path.GetFileName(path)}");
        return;
    }
    using var packed = new GZipStream(file, CompressionLevel.Optimal);
    using var tar = new TarWriter(packed, TarEntryFormat.Pax);
    const UnixFileMode read = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead | UnixFileMode.OtherRead, run = UnixFileMode.UserExecute | UnixFileMode.GroupExecute | UnixFileMode.OtherExecute;
    foreach (string path in files)
    {
        using FileStream content = File.OpenRead(path);
        tar.WriteEntry(new PaxTarEntry(TarEntryType.RegularFile, $"{name}/{Path.GetFileName(path)}") { DataStream = content, Mode = Path.GetFileName(path) == program ? read | run : read });
    }
}

// What the licences of the parts inside ask for: their texts, or the name where a package gives only that.
string Licences()
{
    var text = new StringBuilder("Undersand contains these parts of others.\n");
    string modules = Path.Combine(root, "src", "Undersand.Workbench", "client", "node_modules");
    var (code, list) = Run("npm", "ls", "--omit=dev", "--all", "--parseable", "--prefix", Path.Combine(root, "src", "Undersand.Workbench", "client"));
    if (code == 0)
        foreach (string folder in list.Split('\n', StringSplitOptions.RemoveEmptyEntries).Where(f => f.StartsWith(modules, StringComparison.Ordinal)).Order(StringComparer.Ordinal))
            Add(Path.GetRelativePath(modules, folder), folder);
    string packages = Environment.GetEnvironmentVariable("NUGET_PACKAGES") ?? Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".nuget", "packages");
    foreach (string line in Run("dotnet", "list", Path.Combine(root, "src", "Undersand.App"), "package", "--include-transitive").Output.Split('\n').Where(l => l.TrimStart().StartsWith('>')))
    {
        string[] words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Add($"{words[1]} {words[^1]}", Path.Combine(packages, words[1].ToLowerInvariant(), words[^1]));
    }
    Add(".NET runtime and ASP.NET Core", Path.GetDirectoryName(Environment.ProcessPath)!);
    Add("IBM Plex Sans", Path.Combine(root, "src", "Undersand.Runs", "Reporting", "Fonts"));
    return text.ToString();

    void Add(string what, string folder)
    {
        text.Append('\n').Append('=', 80).Append('\n').Append(what).Append("\n\n");
        string? licence = Directory.Exists(folder) ? Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal).FirstOrDefault(f => Path.GetFileName(f) is var n && (n.StartsWith("licen", StringComparison.OrdinalIgnoreCase) || n.StartsWith("OFL", StringComparison.Ordinal))) : null;
        if (licence is not null)
            text.Append(File.ReadAllText(licence).Trim()).Append('\n');
        else if (Directory.Exists(folder) && Directory.EnumerateFiles(folder, "*.nuspec").FirstOrDefault() is { } spec)
            text.Append("Licence: ").Append(System.Xml.Linq.XDocument.Load(spec).Descendants().FirstOrDefault(e => e.Name.LocalName == "license")?.Value ?? "see its page on nuget.org").Append('\n');
        else if (File.Exists(Path.Combine(folder, "package.json")))
            text.Append("Licence: ").Append(System.Text.Json.JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "package.json"))).RootElement.GetProperty("license").GetString()).Append('\n');
        else
            text.Append("Licence text not found where it was built.\n");
    }
}

static (int Code, string Output) Run(string program, params string[] arguments)
{
    try
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output + errors.Result);
    }
    catch (System.ComponentModel.Win32Exception e)
    {
        return (127, e.Message);
    }
}

static int Fail(string sentence)
{
    Console.Error.WriteLine(sentence);
    return 2;
}

static string Here([CallerFilePath] string path = "") => Path.GetDirectoryName(path)!;
