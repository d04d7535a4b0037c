using System.Diagnostics;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>Runs that are stopped, killed and given again end with the bytes of an undisturbed run.</summary>
public sealed class EndToEndStoppedTests(ProcessedSurvey made) : IClassFixture<ProcessedSurvey>
{
    [Theory]
    [InlineData("Scanning the lines", 20)]
    [InlineData("Summing the echoes", 2)]
    [InlineData("Weighing the evidence", 1)]
    public void Stopped_half_way_and_given_again_the_bytes_are_the_same(string step, int after)
    {
        string results = made.Beside($"stopped {step}");
        using var stop = new CancellationTokenSource();
        var request = new ProcessRequest(made.Survey, results) { Threads = 2 };
        Assert.ThrowsAny<OperationCanceledException>(() => new SurveyRunner().Process(request, new StopAt(step, after, stop), stop.Token));
        string[] left = Directory.Exists(results) ? [.. FolderBytes.Of(results).Keys] : [];
        Assert.DoesNotContain(left, f => f.Contains(".tmp", StringComparison.Ordinal));
        Assert.DoesNotContain("report.html", left);

        new SurveyRunner().Process(request with { Threads = 1 }, new NoProgress(), TestContext.Current.CancellationToken);
        FolderBytes.AssertSameResults(made.Results, results);
        int tiles = RunRecord.TryRead(Path.Combine(results, "run.json"))!.Timings!.TilesTakenOver;
        Assert.Equal(step switch { "Scanning the lines" => 0, "Summing the echoes" => 2, _ => FolderBytes.Of(results).Keys.Count(f => f.StartsWith("volume.zarr/.tiles/", StringComparison.Ordinal)) }, tiles);
    }

    [Fact]
    public void Killed_again_and_again_the_same_command_ends_with_the_same_bytes()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "kill -9 is a thing of Linux and macOS");
        string results = made.Beside("killed");
        string[] args = ["process", made.Survey, "--out", results, "--threads", "2"];
        // At once, while the first tiles are written, while probabilities are, while the files are.
        foreach (string sign in (string[])["undersand.lock.tmp", "volume.zarr/.tiles/0.0", "volume.zarr/probability/0.0.0", "targets.geojson"])
        {
            KillWhen(() => File.Exists(Path.Combine(results, sign)), args);
            Assert.NotNull(ResultsTurn.LeftOff(results));
        }
        StartedProgram.Ending ending = StartedProgram.Run(args);
        Assert.Equal((0, ""), (ending.ExitCode, ending.Errors));
        Assert.Null(ResultsTurn.LeftOff(results));
        FolderBytes.AssertSameResults(made.Results, results);
    }

    [Fact]
    public void Given_again_over_its_own_results_nothing_changes()
    {
        string results = made.Beside("twice");
        var request = new ProcessRequest(made.Survey, results);
        new SurveyRunner().Process(request, new NoProgress(), TestContext.Current.CancellationToken);
        File.WriteAllText(Path.Combine(results, "notes.txt"), "mine");
        var tiles = new TilesHeard();
        new SurveyRunner().Process(request, tiles, TestContext.Current.CancellationToken);
        Assert.Equal((0, RunRecord.TryRead(Path.Combine(results, "run.json"))!.Timings!.TilesTakenOver), (tiles.Made, tiles.Kept));
        Assert.Equal("mine", File.ReadAllText(Path.Combine(results, "notes.txt")));
        File.Delete(Path.Combine(results, "notes.txt"));
        FolderBytes.AssertSameResults(made.Results, results);
    }

    private static void KillWhen(Func<bool> sign, string[] args)
    {
        using Process run = StartedProgram.Start(args);
        var patience = Stopwatch.StartNew();
        while (!sign() && !run.HasExited && patience.Elapsed < TimeSpan.FromSeconds(60))
            Thread.Sleep(5);
        Assert.False(run.HasExited, "the run ended before it was killed");
        run.Kill();
        run.WaitForExit();
    }

    /// <summary>Stops the run once so much of a step is done.</summary>
    private sealed class StopAt(string step, double amount, CancellationTokenSource stop) : IProgressSink
    {
        private readonly Lock _gate = new();
        private bool _here;
        private double _done;

        public void Begin(string name, double total, string unit)
        {
            lock (_gate)
                _here = name == step;
        }

        public void Advance(double by = 1)
        {
            lock (_gate)
                if (_here && (_done += by) >= amount)
                    stop.Cancel();
        }

        public void TakeOver(double by = 1) => Assert.Fail("there was nothing to take over");

        public void Message(string text)
        {
        }
    }

    /// <summary>Counts tiles imaged, and tiles that were there.</summary>
    private sealed class TilesHeard : IProgressSink
    {
        private bool _here;

        public double Made { get; private set; }

        public double Kept { get; private set; }

        public void Begin(string step, double total, string unit) => _here = step == "Summing the echoes";

        public void Advance(double amount = 1) => Made += _here ? amount : 0;

        public void TakeOver(double amount = 1) => Kept += _here ? amount : 0;

        public void Message(string text)
        {
        }
    }
}
