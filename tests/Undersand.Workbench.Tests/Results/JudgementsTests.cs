using NodaTime;
using Undersand.Positioning;
using Undersand.Runs;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Results;

public class JudgementsTests(SmallResults small)
{
    private static readonly Instant s_noon = Instant.FromUtc(2026, 5, 5, 12, 0);

    [Fact]
    public void What_was_judged_is_there_after_a_restart_with_who_and_when()
    {
        using var folder = new TestFolder();
        Judgement said = Said("T-1", Verdict.Accept, 1, "Looks like shot: “round”, hard");
        Open(folder).Say(said);
        Assert.Equal(said with { Place = said.Place with { Depth = double.NaN } }, Open(folder).Current["T-1"]);
    }

    [Fact]
    public void Undo_goes_back_act_by_act_also_after_a_restart_and_forgets_nothing()
    {
        using var folder = new TestFolder();
        JudgementsGeoPackage file = Open(folder);
        file.Say(Said("T-1", Verdict.Accept));
        file.Say(Said("T-2", Verdict.Reject));
        file.Say(Said("T-1", Verdict.Doubt, note: "not so sure"));
        Assert.Equal(Verdict.Doubt, Assert.IsType<Judgement>(Open(folder).Undo("Ada", s_noon)!.Said).Verdict);
        Assert.Equal(Verdict.Accept, Open(folder).Current["T-1"].Verdict);
        Assert.Equal("T-2", Open(folder).Undo("Ada", s_noon)!.Said.TargetId);
        Assert.Equal(["T-1"], Open(folder).Current.Keys);
        Assert.Equal("T-1", Open(folder).Undo("Ada", s_noon)!.Said.TargetId);
        Assert.Empty(Open(folder).Current);
        Assert.Null(Open(folder).Undo("Ada", s_noon));
        Assert.Equal(6, Open(folder).Acts.Count);
    }

    [Fact]
    public void A_judgement_after_an_undo_is_what_the_next_undo_takes_back()
    {
        using var folder = new TestFolder();
        JudgementsGeoPackage file = Open(folder);
        file.Say(Said("T-1", Verdict.Accept));
        file.Undo("Ada", s_noon);
        file.Say(Said("T-1", Verdict.Reject));
        Assert.Equal(Verdict.Reject, Assert.IsType<Judgement>(file.Undo("Ada", s_noon)!.Said).Verdict);
        Assert.Empty(file.Current);
    }

    [Fact]
    public void A_judgement_that_cannot_be_written_is_refused_and_changes_nothing()
    {
        using var folder = new TestFolder();
        JudgementsGeoPackage file = Open(folder);
        Directory.CreateDirectory(folder["judgements.gpkg"]);
        Assert.Throws<SurveyException>(() => file.Say(Said("T-1", Verdict.Accept)));
        Assert.Empty(file.Acts);
    }

    [Fact]
    public void A_geographic_information_system_sees_what_holds_now()
    {
        using var folder = new TestFolder();
        JudgementsGeoPackage file = Open(folder);
        file.Say(Said("T-1", Verdict.Accept, 2));
        file.Say(Said("T-2", Verdict.Reject));
        file.Undo("Ada", s_noon);
        string seen = OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", folder["judgements.gpkg"], "judgements");
        Assert.Contains("Feature Count: 1", seen);
        Assert.Contains("target_id (String) = T-1", seen);
        Assert.Contains("POINT (500001 5760002)", seen);
        Assert.Contains("\"EPSG\",32631", seen);
    }

    [Fact]
    public void Processing_again_never_touches_the_judgements_and_they_find_their_targets()
    {
        using TestFolder copy = small.Copy();
        OpenedResults results = OpenedResults.Open(copy.Path);
        Target target = results.Targets[0];
        new JudgementDesk(Shelves.Open(copy.Path)).Change(target, "Ada", j => j with { Verdict = Verdict.Accept });
        byte[] before = File.ReadAllBytes(copy["judgements.gpkg"]);
        File.Delete(copy["targets.csv"]);
        new SurveyRunner().Process(new ProcessRequest(small.Survey, copy.Path) { Threads = 2 }, new NoProgress(), TestContext.Current.CancellationToken);
        Assert.Equal(before, File.ReadAllBytes(copy["judgements.gpkg"]));
        Assert.True(File.Exists(copy["targets.csv"]));
        OpenedResults again = OpenedResults.Open(copy.Path);
        Assert.Equal(Verdict.Accept, again.Judgements.Current[again.Targets[0].Id].Verdict);
        Assert.Empty(again.Orphans());
    }

    [Fact]
    public void Judging_changes_no_other_file_and_no_number_of_the_machine()
    {
        using TestFolder copy = small.Copy();
        var before = copy.Files().ToDictionary(f => f, f => File.ReadAllBytes(copy[f.Split('/')]));
        OpenedResults results = OpenedResults.Open(copy.Path);
        new JudgementDesk(Shelves.Open(copy.Path)).Change(results.Targets[0], "Ada", j => j with { Verdict = Verdict.Reject, Note = "a stone" });
        Assert.Equal(["judgements.gpkg"], copy.Files().Except(before.Keys));
        Assert.All(before, f => Assert.Equal(f.Value, File.ReadAllBytes(copy[f.Key.Split('/')])));
    }

    [Fact]
    public void A_judgement_whose_target_is_gone_is_listed_with_the_target_near_it()
    {
        using TestFolder copy = small.Copy();
        OpenedResults results = OpenedResults.Open(copy.Path);
        GridPoint near = results.Targets[0].Position with { Easting = results.Targets[0].Position.Easting + 0.5 };
        results.Judgements.Say(Said("T-GONE", Verdict.Accept) with { Place = near });
        results.Judgements.Say(Said("T-FAR", Verdict.Accept) with { Place = near with { Easting = near.Easting + 500 } });
        var orphans = OpenedResults.Open(copy.Path).Orphans().OrderBy(o => o.Said.TargetId).ToArray();
        Assert.Equal(["T-FAR", "T-GONE"], orphans.Select(o => o.Said.TargetId));
        Assert.Null(orphans[0].Near);
        Assert.Equal(results.Targets[0].Id, orphans[1].Near?.Id);
    }

    private static JudgementsGeoPackage Open(TestFolder folder)
    {
        Assert.True(ProjectedCrs.TryFromEpsg(32631, out ProjectedCrs? crs));
        return JudgementsGeoPackage.Open(folder["judgements.gpkg"], crs);
    }

    private static Judgement Said(string id, Verdict verdict, int? priority = null, string note = "") => new(id, new GridPoint(500_001, 5_760_002, 6), verdict, priority, note, "Ada", s_noon);
}
