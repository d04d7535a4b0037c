using NodaTime;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoPackage;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>A seabed laid by hand: kept in a table, read by the run, and said in the results.</summary>
public sealed class SeabedByHandTests : IDisposable
{
    private static readonly SeabedStretch s_stretch = new("line-02.sgy", 20, 5.95, 40, 6.0, "Ada, \"the pilot\"", Instant.FromUtc(2026, 5, 5, 8, 0));
    private readonly TestFolder _folder = new();

    private string Results => _folder["results"];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Stretches_come_back_as_they_were_added_and_can_be_forgotten()
    {
        SeabedStretch other = s_stretch with { Line = "line-01.sgy", Who = "Ben" };
        SeabedByHand.Add(_folder.Path, s_stretch, other);
        Assert.Equal([s_stretch, other], SeabedByHand.Read(_folder.Path));
        SeabedByHand.Forget(_folder.Path, s => s.Line == "line-02.sgy");
        Assert.Equal([other], SeabedByHand.Read(_folder.Path));
    }

    [Theory]
    [InlineData("line-02.sgy,20,5.95,19,6.0,Ada,2026-05-05T08:00:00Z", "line 2, last_ping")]
    [InlineData("line-02.sgy,20,deep,40,6.0,Ada,2026-05-05T08:00:00Z", "line 2, first_depth_m")]
    [InlineData("line-02.sgy,20,5.95,40,6.0,Ada,yesterday", "line 2, when_utc")]
    public void A_wrong_row_is_named(string row, string place)
    {
        _folder.Write(SeabedByHand.FileName, "file,first_ping,first_depth_m,last_ping,last_depth_m,who,when_utc\n" + row + "\n");
        Assert.Equal(place, Assert.Throws<SurveyException>(() => SeabedByHand.Read(_folder.Path)).Place);
    }

    [Fact]
    public void A_run_follows_what_was_laid_images_again_under_it_and_says_so()
    {
        string survey = SmallSurvey.Write(_folder["survey"], SmallSurvey.TwoLines);
        Process(survey);
        int all = Directory.EnumerateFiles(Path.Combine(Results, "volume.zarr", ".tiles")).Count();
        SeabedByHand.Add(Results, s_stretch with { FirstDepth = 6.30, LastDepth = 6.30 });
        Process(survey);
        RunRecord record = RunRecord.TryRead(Path.Combine(Results, "run.json"))!;
        Assert.Equal(0, record.Timings!.TilesTakenOver);
        LineResult line = SurveyGeoPackageReader.Read(Path.Combine(Results, "survey.gpkg")).Lines.Single(l => l.Name == "line-02.sgy");
        // What was laid, as far as an echo near it may decide, and its timing in each trace after that.
        const double within = SeabedStretch.Reach + 0.12;
        Assert.All(line.Pings.Where(p => p.Number is >= 20 and <= 40), p => Assert.Equal(6.30, p.SeabedDepth!.Value, within));
        Assert.All(line.Pings.Where(p => p.Number is < 15 or > 45), p => Assert.InRange(p.SeabedDepth ?? 6, 5.9, 6.15));
        string report = File.ReadAllText(Path.Combine(Results, "report.html"));
        Assert.Contains("line-02.sgy, pings 20 to 40", report);
        Assert.Contains("laid by hand by Ada", report);

        Process(survey);
        Assert.Equal(all, RunRecord.TryRead(Path.Combine(Results, "run.json"))!.Timings!.TilesTakenOver);
    }

    private void Process(string survey) => new SurveyRunner().Process(new ProcessRequest(survey, Results) { Threads = 2 }, new NoProgress(), TestContext.Current.CancellationToken);
}
