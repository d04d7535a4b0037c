using System.Diagnostics;

namespace Undersand.Runs.Tests.Support;

/// <summary>The real program, started as a person would start it.</summary>
internal static class StartedProgram
{
    /// <summary>What it left behind.</summary>
    public sealed record Ending(int ExitCode, string Output, string Errors)
    {
        /// <summary>The lines of the error output.</summary>
        public string[] ErrorLines => Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    /// <summary>Runs <c>undersand</c> to its end.</summary>
    public static Ending Run(params string[] args) => RunIn(Environment.CurrentDirectory, args);

    /// <summary>Runs <c>undersand</c> to its end, from another working folder.</summary>
    public static Ending RunIn(string folder, params string[] args) => End(Start("Undersand.App.dll", folder, args));

    /// <summary>Builds and runs a file of <c>examples</c> as a reader would.</summary>
    public static Ending RunExample(string file, params string[] args)
    {
#if DEBUG
        const string configuration = "Debug";
#else
        const string configuration = "Release";
#endif
        return End(Start(["run", "-c", configuration, Path.Combine(Repository.Root, "examples", file), "--", .. args], Repository.Root));
    }

    /// <summary>Starts <c>undersand</c> and doesn't wait for it; nobody reads what it prints.</summary>
    public static Process Start(params string[] args)
    {
        Process process = Start("Undersand.App.dll", Environment.CurrentDirectory, args);
        process.OutputDataReceived += (_, _) => { };
        process.ErrorDataReceived += (_, _) => { };
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        return process;
    }

    /// <summary>Starts the same command line with the stand-in for the science.</summary>
    public static Process StartStandIn(string folder, params string[] args) => Start("Undersand.Runs.Tests.dll", folder, [StandInProgram.Word, .. args]);

    /// <summary>Waits for a started program.</summary>
    public static Ending End(Process process)
    {
        using (process)
        {
            Task<string> errors = process.StandardError.ReadToEndAsync();
            string output = process.StandardOutput.ReadToEnd();
            Assert.True(process.WaitForExit(TimeSpan.FromSeconds(180)), "the program didn't end within three minutes");
            return new Ending(process.ExitCode, output.ReplaceLineEndings("\n"), errors.Result.ReplaceLineEndings("\n"));
        }
    }

    private static Process Start(string assembly, string folder, string[] args) => Start([Path.Combine(AppContext.BaseDirectory, assembly), .. args], folder);

    private static Process Start(string[] args, string folder)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath is { } host && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet", args)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        };
        // A build must leave no server behind that keeps the output open.
        start.Environment["MSBUILDDISABLENODEREUSE"] = "1";
        return Process.Start(start)!;
    }
}
