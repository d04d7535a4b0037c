using NodaTime;
using Undersand.Runs;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;
using Undersand.Workbench.Work;

namespace Undersand.Workbench.Tests.Work;

public sealed class SurveyWatchTests : IDisposable
{
    private static readonly string[] s_tables = ["survey.json", "array.json", "navigation.csv", "pings.csv"];
    private readonly SmallResults _small;
    private readonly TestFolder _place = new();
    private readonly ResultsShelf _shelf;
    private readonly RunDesk _runs;
    private readonly SurveyWatch _watch;
    private Instant _now = Instant.FromUtc(2026, 5, 4, 9, 0);

    public SurveyWatchTests(SmallResults small)
    {
        _small = small;
        Directory.CreateDirectory(_place["survey"]);
        foreach (string table in s_tables)
            File.Copy(Path.Combine(small.Survey, table), _place["survey/" + table]);
        _shelf = new ResultsShelf(WorkPlace.Of(_place["survey"], null, watch: true));
        _runs = new RunDesk(_shelf, new SurveyRunner());
        _watch = new SurveyWatch(_shelf, _runs);
    }

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        _watch.Dispose();
        _runs.Dispose();
        _place.Dispose();
    }

    [Fact]
    public async Task A_recording_that_arrives_in_pieces_is_taken_up_once_it_is_complete()
    {
        byte[] whole = File.ReadAllBytes(Path.Combine(_small.Survey, "line-01.sgy"));
        File.WriteAllBytes(_place["survey/line-01.sgy"], whole[..(whole.Length / 2)]);
        Look(Duration.Zero);
        Assert.Equal((LineStage.Arriving, whole.Length / 2), (Stage("line-01.sgy"), (int)Only.Bytes));
        Look(Duration.FromSeconds(1));
        File.WriteAllBytes(_place["survey/line-01.sgy"], whole);
        Look(Duration.FromSeconds(2));
        Assert.Equal(LineStage.Arriving, Stage("line-01.sgy"));
        Look(Duration.FromSeconds(2));
        Assert.Equal(LineStage.Arriving, Stage("line-01.sgy"));
        Look(Duration.FromSeconds(1));
        Assert.Equal(LineStage.Judged, Stage("line-01.sgy"));
        Assert.True(_runs.IsBusy);
        await Imaged();
        Assert.Equal(LineStage.Imaged, Stage("line-01.sgy"));
        // The same as the run says of it: nothing is judged in two ways.
        LineQuality said = _shelf.Shown.Results.Contents.Lines[0].Quality, judged = Only.Result!.Quality;
        Assert.Equal((said.Pings, said.PingsUsed, said.Receivers, said.DropOuts, said.Bursts, said.SeabedBridged), (judged.Pings, judged.PingsUsed, judged.Receivers, judged.DropOuts, judged.Bursts, judged.SeabedBridged));
        // As the file rounds them.
        Assert.Equal(said.NoiseLevel, judged.NoiseLevel, 1e-3);
        Assert.Equal(said.SeabedSnrDb, judged.SeabedSnrDb, 1e-2);
        Assert.Equal(said.MeanHeight, judged.MeanHeight, 1e-2);
    }

    [Fact]
    public async Task Two_at_once_go_into_one_run_and_a_bad_one_stops_neither()
    {
        foreach (string line in new[] { "line-01.sgy", "line-02.sgy" })
            File.Copy(Path.Combine(_small.Survey, line), _place["survey/" + line]);
        _place.Write("survey/line-00.sgy", "this is no recording");
        Complete();
        Assert.Equal(LineStage.Faulty, Stage("line-00.sgy"));
        Assert.Contains("line-00.sgy", _watch.Lines[0].Fault);
        await Imaged();
        Assert.Equal([LineStage.Faulty, LineStage.Imaged, LineStage.Imaged], _watch.Lines.Select(l => l.Stage));
        Assert.Single(_runs.Past);
        Assert.Equal(["line-01.sgy", "line-02.sgy"], _shelf.Shown.Results.Contents.Lines.Select(l => l.Name));
        // Nothing has changed, so nothing is done.
        Look(Duration.FromSeconds(30));
        Assert.False(_runs.IsBusy);
        // Mended, it is taken up.
        File.Delete(_place["survey/line-00.sgy"]);
        Look(Duration.FromSeconds(1));
        Assert.Equal(2, _watch.Lines.Count);
    }

    [Fact]
    public async Task A_line_that_comes_later_joins_the_others_and_after_a_restart_nothing_is_done_twice()
    {
        File.Copy(Path.Combine(_small.Survey, "line-01.sgy"), _place["survey/line-01.sgy"]);
        Complete();
        await Imaged();
        string version = _shelf.Version;
        File.Copy(Path.Combine(_small.Survey, "line-02.sgy"), _place["survey/line-02.sgy"]);
        Look(Duration.FromSeconds(1));
        Assert.Equal([LineStage.Imaged, LineStage.Arriving], _watch.Lines.Select(l => l.Stage));
        Complete();
        await Imaged();
        Assert.NotEqual(version, _shelf.Version);
        Assert.Equal(2, _shelf.Shown.Results.Contents.Lines.Count);

        var shelf = new ResultsShelf(WorkPlace.Of(_place["survey"], null, watch: true));
        shelf.Renew();
        using var runs = new RunDesk(shelf, new SurveyRunner());
        using var watch = new SurveyWatch(shelf, runs);
        watch.Look(_now, Stop);
        watch.Look(_now + SurveyWatch.StillFor, Stop);
        Assert.Equal([LineStage.Imaged, LineStage.Imaged], watch.Lines.Select(l => l.Stage));
        Assert.False(runs.IsBusy);
    }

    [Fact]
    public async Task A_run_that_someone_stopped_is_not_begun_again_until_something_changes()
    {
        using var runner = new StandInRunner();
        using var runs = new RunDesk(_shelf, runner);
        using var watch = new SurveyWatch(_shelf, runs);
        File.Copy(Path.Combine(_small.Survey, "line-01.sgy"), _place["survey/line-01.sgy"]);
        watch.Look(_now, Stop);
        watch.Look(_now + SurveyWatch.StillFor, Stop);
        await RunDeskTests.Until(() => runner.Asked.Count == 1);
        runs.Stop();
        await runs.WhenOver().WaitAsync(Stop);
        watch.Look(_now + Duration.FromSeconds(10), Stop);
        watch.Look(_now + Duration.FromSeconds(20), Stop);
        Assert.False(runs.IsBusy);
        Assert.Equal(["line-01.sgy"], Assert.Single(runner.Asked).Recordings!);
    }

    [Fact]
    public async Task What_is_provisional_is_made_good_once_it_is_quiet_but_a_line_that_comes_goes_first()
    {
        using var runner = new StandInRunner();
        runner.LetGo();
        using var runs = new RunDesk(_shelf, runner);
        using var watch = new SurveyWatch(_shelf, runs);
        void Arrives(string line)
        {
            File.Copy(Path.Combine(_small.Survey, line), _place["survey/" + line]);
            watch.Look(_now += Duration.FromSeconds(1), Stop);
            watch.Look(_now += SurveyWatch.StillFor, Stop);
        }
        Arrives("line-01.sgy");
        await runs.WhenOver().WaitAsync(Stop);
        string record = _place["survey-results/run.json"];
        File.WriteAllText(record, File.ReadAllText(record).Replace("\"provisional\": false", "\"provisional\": true", StringComparison.Ordinal));
        _shelf.Renew();
        watch.Look(_now += SurveyWatch.QuietFor - Duration.FromSeconds(5), Stop);
        Assert.False(runs.IsBusy);
        watch.Look(_now += Duration.FromSeconds(5), Stop);
        await RunDeskTests.Until(() => runner.Asked.Count == 2);

        Arrives("line-02.sgy");
        await RunDeskTests.Until(() => runs.Past[0].Stage == RunStage.Stopped);
        runner.LetGo();
        watch.Look(_now += Duration.FromSeconds(1), Stop);
        await runs.WhenOver().WaitAsync(Stop);
        watch.Look(_now += Duration.FromSeconds(1), Stop);
        Assert.Equal([LineStage.Imaged, LineStage.Imaged], watch.Lines.Select(l => l.Stage));
        Assert.Equal([(1, true), (1, false), (2, true)], runner.Asked.Select(r => (r.Recordings!.Count, r.LinesStillCome)));
    }

    [Fact]
    public async Task Where_the_survey_refuses_a_new_line_that_line_is_named_and_the_rest_goes_on()
    {
        using var runner = new StandInRunner
        {
            Does = r => r.Recordings!.Contains("line-02.sgy") ? throw new SurveyException("line-02.sgy", null, "it lies elsewhere", "take it away") : new SurveyRunner().Process(r, new NoProgress(), Stop),
        };
        runner.LetGo();
        runner.LetGo();
        runner.LetGo();
        using var runs = new RunDesk(_shelf, runner);
        using var watch = new SurveyWatch(_shelf, runs);
        foreach (string line in new[] { "line-01.sgy", "line-02.sgy" })
            File.Copy(Path.Combine(_small.Survey, line), _place["survey/" + line]);
        watch.Look(_now, Stop);
        for (int i = 1; i <= 4; i++)
        {
            watch.Look(_now + i * SurveyWatch.StillFor, Stop);
            await runs.WhenOver().WaitAsync(Stop);
        }
        Assert.Equal([LineStage.Imaged, LineStage.Faulty], watch.Lines.Select(l => l.Stage));
        Assert.Contains("it lies elsewhere", watch.Lines[1].Fault);
        Assert.Equal(3, runner.Asked.Count);
    }

    [Fact]
    public void A_repeated_line_waits_for_its_rows_in_pings_csv_as_the_advice_says()
    {
        string[] rows = File.ReadAllLines(_place["survey/pings.csv"]);
        File.WriteAllLines(_place["survey/pings.csv"], rows.Where(r => !r.StartsWith("line-02.sgy", StringComparison.Ordinal)));
        File.Copy(Path.Combine(_small.Survey, "line-02.sgy"), _place["survey/line-02.sgy"]);
        Complete();
        Assert.Contains("pings.csv: the recording line-02.sgy is not listed", Only.Fault);
        File.WriteAllLines(_place["survey/pings.csv"], rows);
        Complete();
        Assert.Equal((LineStage.Judged, 32631), (Only.Stage, Only.Crs!.Epsg));
    }

    private WatchedLine Only => Assert.Single(_watch.Lines);

    private LineStage Stage(string name) => _watch.Lines.Single(l => l.Name == name).Stage;

    private void Look(Duration later) => _watch.Look(_now += later, Stop);

    private void Complete()
    {
        Look(Duration.Zero);
        Look(SurveyWatch.StillFor);
    }

    private async Task Imaged()
    {
        await _runs.WhenOver().WaitAsync(Stop);
        Look(Duration.FromSeconds(1));
    }
}
