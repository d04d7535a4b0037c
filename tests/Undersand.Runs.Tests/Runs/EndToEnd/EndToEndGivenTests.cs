using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoPackage;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>Magnetics and outcomes go through the whole job without touching the image.</summary>
public sealed class EndToEndGivenTests
{
    [Fact]
    public void What_was_found_afterwards_is_passed_on_and_no_tile_is_made_again()
    {
        using var folder = new TestFolder();
        string survey = SmallSurvey.Write(folder["survey"], SmallSurvey.OneReceiver), results = folder["results"];
        RunRecord Process()
        {
            new SurveyRunner().Process(new ProcessRequest(survey, results) { Threads = 2 }, new NoProgress(), CancellationToken.None);
            return RunRecord.TryRead(Path.Combine(results, "run.json"))!;
        }
        RunRecord before = Process();
        folder.Write("survey/outcomes.csv", "easting,northing,radius_m,reached_depth_m,outcome,material,note\n500003,5760000,1,0.4,nothing,,sand\n5760000,500003,1,0.4,object,iron,swapped\n");
        folder.Write("survey/magnetometer.csv", "time_utc,easting,northing,depth_m,total_field_nt\n2026-05-04T10:00:00Z,500003,5760000,4,49000\n2026-05-04T10:00:01Z,500004,5760000,4,49010\n");
        RunRecord after = Process();
        Assert.Equal(["magnetometer.csv", "outcomes.csv"], after.Inputs.Select(i => i.File).Except(before.Inputs.Select(i => i.File)).Order());
        Assert.Equal(0, before.Timings!.TilesTakenOver);
        Assert.True(after.Timings!.TilesTakenOver > 0);
        Assert.Equal(1, Assert.Single(after.Cautions, c => c.Where == "outcomes.csv").Count);
        SurveyContents contents = SurveyGeoPackageReader.Read(Path.Combine(results, "survey.gpkg"));
        Assert.Equal([OutcomeKind.Nothing, OutcomeKind.Object], contents.Outcomes.Select(o => o.Kind));
        Assert.Equal([-5, 5], contents.Magnetics.Select(m => m.ResidualNanotesla));
    }
}
