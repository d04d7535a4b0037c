using System.Diagnostics;
using System.Formats.Tar;
using System.IO.Compression;
using System.Net.Http;
using System.Security.Cryptography;
using System.Text.RegularExpressions;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Archives;

/// <summary>That one command makes an archive, and that what is in it runs where there is neither SDK nor Node.</summary>
public sealed class ArchiveTests(SmallResults small)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_archive_runs_without_sdk_and_node_with_the_client_inside()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && System.Runtime.InteropServices.RuntimeInformation.OSArchitecture == System.Runtime.InteropServices.Architecture.X64, "makes and runs the archive for Linux x64");
        Assert.SkipUnless(WorkbenchServer.HasClient, "the client was not bundled: Node 20.19 or later and npm are missing");
        using var folder = new TestFolder();
        string made = OutsideReader.RunTool("dotnet", "dotnet", "run", Path.Combine(Repository.Root, "packaging", "archives.cs"), "--", "linux-x64");
        string archive = Path.Combine(Repository.Root, "artifacts", "archives", Regex.Match(made, @"undersand-\S+-linux-x64\.tar\.gz").Value);
        Assert.Equal($"{Convert.ToHexStringLower(SHA256.HashData(await File.ReadAllBytesAsync(archive, Stop)))}  {Path.GetFileName(archive)}\n", await File.ReadAllTextAsync(archive + ".sha256", Stop));
        await using (FileStream file = File.OpenRead(archive))
        await using (var packed = new GZipStream(file, CompressionMode.Decompress))
            await TarFile.ExtractToDirectoryAsync(packed, folder.Path, false, Stop);
        string unpacked = Assert.Single(Directory.EnumerateDirectories(folder.Path));
        Assert.Contains("BSD 2-Clause", await File.ReadAllTextAsync(Path.Combine(unpacked, "LICENCES-OF-PARTS.txt"), Stop));

        using Process program = Process.Start(Bare(Path.Combine(unpacked, "undersand"), folder.Path, "open", small.Folder, "--no-browser"))!;
        try
        {
            string said = await program.StandardOutput.ReadLineAsync(Stop) ?? "";
            Assert.Matches("^http://127", said);
            using var client = new HttpClient { BaseAddress = new Uri(said.Split(' ')[0]) };
            Assert.Contains("main class=\"desk\"", await client.GetStringAsync("/", Stop));
            Assert.True((await client.GetByteArrayAsync("/client/workbench.js", Stop)).Length > 100_000);
            Assert.NotEmpty(await client.GetByteArrayAsync("/map/seabed/0/0/0.png", Stop));
        }
        finally
        {
            program.Kill();
            await program.WaitForExitAsync(Stop);
        }
    }

    // An environment in which neither dotnet nor node can be found.
    private static ProcessStartInfo Bare(string program, string home, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment.Clear();
        start.Environment["HOME"] = home;
        return start;
    }
}
