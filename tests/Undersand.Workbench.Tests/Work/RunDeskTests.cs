using Undersand.Runs;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;
using Undersand.Workbench.Work;

namespace Undersand.Workbench.Tests.Work;

public class RunDeskTests(SmallResults small)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_run_renews_what_is_shown_and_keeps_what_was_judged_meanwhile()
    {
        using TestFolder copy = small.Copy();
        var shelf = new ResultsShelf(new WorkPlace(copy.Path, small.Survey));
        shelf.Renew();
        var judging = new JudgementDesk(shelf);
        using var runner = new StandInRunner();
        using var runs = new RunDesk(shelf, runner);
        ShownResults before = shelf.Shown;
        string version = shelf.Version;
        Target target = before.Results.Targets[0];
        int renewed = 0;
        shelf.Changed += () => renewed++;

        RunInHand run = runs.Process("again")!;
        await Until(() => run.Step is { Part: 0.4 });
        Assert.Contains("Summing the echoes: 4 of 10 tiles (40 %)", run.Step!.Value.Words);
        Assert.Null(runs.Process("a second one"));
        Assert.Same(before, shelf.Shown);
        judging.Change(target, "Ada", j => j with { Verdict = Verdict.Accept, Note = "while it ran" });
        runner.LetGo();
        await runs.WhenOver().WaitAsync(Stop);

        Assert.Equal((RunStage.Done, 1), (run.Stage, renewed));
        Assert.NotSame(before, shelf.Shown);
        Assert.NotEqual(version, shelf.Version);
        Assert.Equal(target.Id, shelf.Shown.Results.Targets[0].Id);
        Assert.Equal("while it ran", judging.Of(target.Id)!.Note);
        Assert.Equal("while it ran", OpenedResults.Open(copy.Path).Judgements.Current[target.Id].Note);
        Assert.Same(run, Assert.Single(runs.Past));
    }

    [Fact]
    public async Task A_stopped_run_leaves_what_is_shown_and_the_next_takes_its_tiles_over()
    {
        using TestFolder copy = small.Copy();
        var shelf = new ResultsShelf(new WorkPlace(copy["results"], small.Survey));
        var stopping = new StopsAfterTiles(3);
        using (var runs = new RunDesk(shelf, stopping))
        {
            stopping.Reached = runs.Stop;
            RunInHand run = runs.Process("to be stopped")!;
            await runs.WhenOver().WaitAsync(Stop);
            Assert.Equal((RunStage.Stopped, "Stopped; what is done so far is kept, and the next run takes it up."), (run.Stage, run.Outcome));
            Assert.Null(shelf.Now);
            Assert.False(File.Exists(copy["results/run.json"]));
        }
        using (var again = new RunDesk(shelf, new SurveyRunner()))
        {
            Assert.NotNull(again.LeftOff);
            RunInHand run = again.Process("going on")!;
            await again.WhenOver().WaitAsync(Stop);
            Assert.Equal((RunStage.Done, ""), (run.Stage, run.Stage == RunStage.Done ? "" : run.Outcome));
            Assert.True(shelf.Shown.Results.Record.Timings!.TilesTakenOver >= 3);
            Assert.Null(again.LeftOff);
            Assert.Null(new RunDesk(shelf, new SurveyRunner()).LeftOff);
            // And the next all that is shown, though it has a folder of its own.
            again.Process("once more");
            await again.WhenOver().WaitAsync(Stop);
            Assert.Equal(Directory.GetFiles(copy["results/volume.zarr/.tiles"]).Length, shelf.Shown.Results.Record.Timings!.TilesTakenOver);
        }
    }

    [Fact]
    public async Task What_goes_wrong_is_a_sentence_and_leaves_nothing_behind()
    {
        using var place = new TestFolder();
        var shelf = new ResultsShelf(new WorkPlace(place["results"], place["nowhere"]));
        using var runs = new RunDesk(shelf, new SurveyRunner());
        RunInHand run = runs.Process("a survey that is not there")!;
        await runs.WhenOver().WaitAsync(Stop);
        Assert.Equal(RunStage.Refused, run.Stage);
        Assert.Contains("there is no such folder", run.Outcome);
        Assert.Empty(Directory.EnumerateFileSystemEntries(place.Path));
    }

    [Fact]
    public async Task Another_program_at_work_in_the_same_folder_is_not_disturbed()
    {
        using TestFolder copy = small.Copy();
        using var runner = new StandInRunner();
        using var first = new RunDesk(new ResultsShelf(new WorkPlace(copy.Path, small.Survey)), runner);
        using var second = new RunDesk(new ResultsShelf(new WorkPlace(copy.Path, small.Survey)), new SurveyRunner());
        first.Process("the first");
        await Until(() => runner.Asked.Count == 1);
        using (var third = new RunDesk(new ResultsShelf(new WorkPlace(copy.Path, small.Survey)), runner))
            Assert.Null(third.LeftOff);
        RunInHand refused = second.Process("the second")!;
        await second.WhenOver().WaitAsync(Stop);
        Assert.Equal(RunStage.Refused, refused.Stage);
        Assert.Contains("another run is writing to this folder", refused.Outcome);
    }

    [Fact]
    public async Task A_run_that_went_down_with_the_program_is_told_on_opening_until_it_is_taken_up()
    {
        using TestFolder copy = small.CopyWithRecordings();
        // As kill -9 leaves it: nobody holds it any more.
        copy.Write("results/undersand.lock.tmp", "");
        using var runner = new StandInRunner();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path) { Runner = runner });
        using var client = new HttpClient { BaseAddress = workbench.Address };
        Assert.Contains("A run did not end</a>", await client.GetStringAsync("/lines", Stop));
        string page = await client.GetStringAsync("/runs", Stop);
        Assert.Contains("<strong>A run did not end.</strong> It was begun on 20", page);
        Assert.Contains(">Go on where it stopped</button>", page);

        using var runs = new RunDesk(new ResultsShelf(WorkPlace.Of(copy.Path, null, watch: false)), runner);
        Assert.NotNull(runs.LeftOff);
        runner.LetGo();
        Assert.NotNull(runs.Process("taken up"));
        Assert.Null(runs.LeftOff);
        await runs.WhenOver().WaitAsync(Stop);
        Assert.False(File.Exists(copy["results/undersand.lock.tmp"]));
    }

    internal static async Task Until(Func<bool> so)
    {
        for (int i = 0; i < 3000 && !so(); i++)
            await Task.Delay(20, Stop);
        Assert.True(so());
    }

    private sealed class StopsAfterTiles(int tiles) : ISurveyRunner
    {
        public Action Reached { get; set; } = () => { };

        public RunOutcome Process(ProcessRequest request, IProgressSink progress, CancellationToken cancellation) => new SurveyRunner().Process(request, new Counts(this, tiles), cancellation);

        public RunOutcome Demo(DemoRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();

        public RunOutcome Simulate(SimulateRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();

        public RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();

        public RunOutcome Report(ReportRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();

        private sealed class Counts(StopsAfterTiles whole, int left) : IProgressSink
        {
            private string _unit = "";
            private int _left = left;

            public void Begin(string step, double total, string unit) => _unit = unit;

            public void Advance(double amount = 1)
            {
                if (_unit == "tiles" && --_left == 0)
                    whole.Reached();
            }

            public void TakeOver(double amount = 1) { }

            public void Message(string text) { }
        }
    }
}
