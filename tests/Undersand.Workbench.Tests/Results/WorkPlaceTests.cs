using Undersand.Runs;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Results;

public class WorkPlaceTests(SmallResults small)
{
    [Fact]
    public void A_results_folder_is_shown_with_the_survey_beside_it()
    {
        WorkPlace place = WorkPlace.Of(small.Folder, null, watch: false);
        Assert.Equal((small.Folder, small.Survey, null, true), (place.Results, place.Survey, place.Demo, place.HasResults));
        Assert.Equal(place, WorkPlace.Of(Path.GetDirectoryName(small.Folder), null, watch: false));
    }

    [Fact]
    public void Results_without_their_survey_can_be_looked_at()
    {
        using TestFolder copy = small.Copy();
        WorkPlace place = WorkPlace.Of(copy.Path, null, watch: false);
        Assert.Equal((null, true), (place.Survey, place.HasResults));
    }

    [Fact]
    public void A_survey_finds_the_results_that_were_made_from_it_or_gets_a_folder_of_its_own_beside_it()
    {
        Assert.Equal(small.Folder, WorkPlace.Of(small.Survey, null, watch: false).Results);
        using var fresh = new TestFolder();
        fresh.Write("block-c/survey.json", "{}");
        // Results of another survey lie about: they are none of this one.
        Directory.CreateDirectory(fresh["results"]);
        File.Copy(Path.Combine(small.Folder, "run.json"), fresh["results/run.json"]);
        WorkPlace place = WorkPlace.Of(fresh["block-c"], null, watch: false);
        Assert.Equal((fresh["block-c"] + "-results", fresh["block-c"], false), (place.Results, place.Survey, place.HasResults));
        Assert.Equal(fresh["elsewhere"], WorkPlace.Of(fresh["block-c"], fresh["elsewhere"], watch: false).Results);
    }

    [Fact]
    public void An_empty_folder_will_do_where_recordings_are_still_to_come_and_else_not()
    {
        using var empty = new TestFolder();
        Assert.Equal(empty.Path, WorkPlace.Of(empty.Path, null, watch: true).Survey);
        Assert.Contains("this is no results folder", Assert.Throws<SurveyException>(() => WorkPlace.Of(empty.Path, null, watch: false)).Message);
    }

    [Fact]
    public void Results_that_are_not_finished_need_their_survey_to_go_on()
    {
        using TestFolder copy = small.Copy();
        (RunRecord.TryRead(copy["run.json"])! with { Finished = false }).Write(copy["run.json"]);
        Assert.Contains("these results are not finished", Assert.Throws<SurveyException>(() => WorkPlace.Of(copy.Path, null, watch: false)).Message);
        Assert.Contains("--out says where a survey's results go", Assert.Throws<SurveyException>(() => WorkPlace.Of(small.Folder, copy["b"], watch: false)).Message);
    }
}
