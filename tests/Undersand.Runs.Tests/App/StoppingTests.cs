using System.Diagnostics;
using Undersand.App;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.App;

/// <summary>Stopping the real program, with a stand-in for the science that takes its time.</summary>
public class StoppingTests
{
    [Theory]
    [InlineData("-INT")]
    [InlineData("-TERM")]
    public void A_stopped_run_keeps_whole_files_only_and_says_how_to_go_on(string signal)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "signals are sent with kill, which is there on Linux and macOS");
        using var folder = new TestFolder();
        Process run = StartLong(folder);
        Kill(run, signal);
        StartedProgram.Ending ending = StartedProgram.End(run);
        Assert.Equal(ExitCode.Stopped, ending.ExitCode);
        Assert.Contains("the same command takes it up again", Assert.Single(ending.ErrorLines), StringComparison.Ordinal);
        Assert.NotEmpty(folder.Files());
        Assert.All(folder.Files(), file => Assert.Equal("whole", File.ReadAllText(folder[file])));
    }

    [Fact]
    public void A_killed_run_is_tidied_by_the_next_one()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "signals are sent with kill, which is there on Linux and macOS");
        using var folder = new TestFolder();
        Process run = StartLong(folder);
        Kill(run, "-KILL");
        StartedProgram.End(run);
        Assert.Contains(folder.Files(), file => file.EndsWith(".tmp", StringComparison.Ordinal));

        StartedProgram.Ending next = StartedProgram.End(StartedProgram.StartStandIn(folder.Path, "process", "quick", "--out", "r"));
        Assert.Equal((ExitCode.Done, ""), (next.ExitCode, next.Errors));
        // The stand-in itself leaves its last unfinished tile to be cleared.
        Assert.All(folder.Files(), file => Assert.Equal("whole", File.ReadAllText(folder[file])));
    }

    [Fact]
    public void A_second_run_into_the_same_folder_is_refused_while_the_first_is_at_work()
    {
        using var folder = new TestFolder();
        using Process first = StartLong(folder);
        StartedProgram.Ending second = StartedProgram.End(StartedProgram.StartStandIn(folder.Path, "process", "quick", "--out", "r"));
        first.Kill();
        first.WaitForExit();
        Assert.Equal(ExitCode.Unusable, second.ExitCode);
        Assert.Equal("r: another run is writing to this folder; wait until it is done, or choose another folder with --out.", Assert.Single(second.ErrorLines));
    }

    // Started and seen to have written a few tiles.
    private static Process StartLong(TestFolder folder)
    {
        Process run = StartedProgram.StartStandIn(folder.Path, "process", "long", "--out", "r");
        string seen = folder["r", "volume.zarr", "4.0"];
        var patience = Stopwatch.StartNew();
        while (!File.Exists(seen))
        {
            Assert.False(run.HasExited, "the run ended before it was stopped");
            Assert.True(patience.Elapsed < TimeSpan.FromSeconds(60), "the run never wrote its first tiles");
            Thread.Sleep(20);
        }
        return run;
    }

    private static void Kill(Process run, string signal)
    {
        using Process kill = Process.Start("kill", [signal, run.Id.ToString()]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
    }
}
