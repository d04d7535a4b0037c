using Undersand.App;
using Undersand.Runs.Tests.App;

namespace Undersand.Runs.Tests;

/// <summary>
/// The tests' own entry point. With the word <c>stand-in</c> first it is the program <c>undersand</c> with a stand-in for the science, so
/// that signals and killing can be tried on a real process; else it runs the tests as the generated entry point would.
/// </summary>
internal static class StandInProgram
{
    /// <summary>The first argument that makes it so.</summary>
    public const string Word = "stand-in";

    public static async Task<int> Main(string[] args)
    {
        if (args is [Word, .. var rest])
            return await CommandLine.RunAsync(rest, new Session(new StandInRunner(), Console.Out, Console.Error));
        if (args.Any(arg => arg is "--server" or "--internal-msbuild-node"))
            return await Xunit.MicrosoftTestingPlatform.TestPlatformTestFramework.RunAsync(args, SelfRegisteredExtensions.AddSelfRegisteredExtensions);
        return await Xunit.Runner.InProc.SystemConsole.ConsoleRunner.Run(args);
    }
}
