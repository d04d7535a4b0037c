using System.Diagnostics;
using System.Text.RegularExpressions;

namespace Undersand.Bench.Speed;

/// <summary>Where the bench ran.</summary>
internal static partial class Machine
{
    public static string Name => $"{Field("model name") ?? "unknown processor"}, family {Field("cpu family") ?? "?"} model {Field("model") ?? "?"}";

    /// <summary>The processor's name as a folder.</summary>
    public static string Folder => NotPlain().Replace(Name.ToLowerInvariant(), "-").Trim('-');

    public static string Commit(string root)
    {
        try
        {
            using Process git = Process.Start(new ProcessStartInfo("git", ["-C", root, "describe", "--always", "--dirty"]) { RedirectStandardOutput = true })!;
            string commit = git.StandardOutput.ReadToEnd().Trim();
            git.WaitForExit();
            return commit.Length > 0 ? commit : "unknown";
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return "unknown";
        }
    }

    private static string? Field(string name) =>
        !File.Exists("/proc/cpuinfo") ? null
            : File.ReadLines("/proc/cpuinfo").Select(l => l.Split(':', 2)).Where(f => f.Length == 2 && f[0].Trim() == name).Select(f => f[1].Trim()).FirstOrDefault();

    [GeneratedRegex("[^a-z0-9]+")]
    private static partial Regex NotPlain();
}
