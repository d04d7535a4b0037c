using System.Text;
using Microsoft.Data.Sqlite;
using NodaTime;
using Undersand.Positioning;
using Undersand.Runs.Tests.Support;
using Undersand.Storage;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Results;

/// <summary>All that can be said of a target besides a verdict: kept, undone, found again, and seen by any GIS.</summary>
public class ActsTests(SmallResults small)
{
    private static readonly GridPoint s_place = new(500_001, 5_760_002, double.NaN);
    private static readonly Instant s_noon = Instant.FromUtc(2026, 5, 5, 12, 0);

    private static readonly Saying[] s_all =
    [
        new Judgement("T-1", s_place, Verdict.Doubt, 2, "why, “so”", "Ada", s_noon),
        new Judgement("T-1", s_place, Verdict.Reject, null, "", "Bea", s_noon) { Opinion = Opinion.Second },
        new Judgement("T-1", s_place, Verdict.Accept, null, "", "Ada", s_noon) { Opinion = Opinion.Agreed },
        new Merger("T-1", s_place, ["T-2", "T-3"], "Ada", s_noon),
        new Partition("T-4", s_place, [new(500_000.5, 5_760_000, double.NaN), new(500_001.5, 5_760_000.25, double.NaN)], "Ada", s_noon),
        new HandOutline("T-1", s_place, [new(500_000, 5_760_000, double.NaN), new(500_000, 5_760_001, double.NaN), new(500_002, 5_760_001, double.NaN)], "Ada", s_noon),
        new HandMeasure("T-1", s_place, 1.25, null, 0.1, 0, "by probe", "Ada", s_noon),
        new Photograph("T-1", s_place, new string('a', 64) + ".jpg", "a pot", true, false, "Ada", s_noon),
        new Succession("T-9", s_place, "T-1", "Ada", s_noon),
        new BlindRound("00ff", true, "Bea", s_noon),
        new PublicWords("A bay", "an office", "Ada", s_noon),
    ];

    [Fact]
    public void Whatever_is_said_is_there_after_a_restart_and_gone_after_as_many_undoes()
    {
        using var folder = new TestFolder();
        foreach (Saying said in s_all)
            Open(folder).Say(said);
        JudgementsGeoPackage file = Open(folder);
        // Lists compare by what is in them when written out as rows.
        Assert.Equal(s_all.Select(Written), file.Acts.Select(a => Written(a.Said)));
        for (int i = 0; i < s_all.Length; i++)
            Assert.Equal(s_all[^(i + 1)].GetType(), Open(folder).Undo("Ada", s_noon)!.Said.GetType());
        Assert.Empty(Open(folder).Judged.All<Saying>());
        Assert.Equal(2 * s_all.Length, Open(folder).Acts.Count);

        static string Written(Saying s) => s switch
        {
            Merger m => string.Join(' ', m.Others),
            Partition p => string.Join(' ', p.Parts.Select(x => $"{x.Easting} {x.Northing}")),
            HandOutline o => string.Join(' ', o.Corners.Select(x => $"{x.Easting} {x.Northing}")),
            _ => s.ToString(),
        };
    }

    [Fact]
    public void A_file_of_the_first_version_opens_keeps_its_acts_and_takes_new_ones()
    {
        using var folder = new TestFolder();
        JudgementsGeoPackage made = Open(folder);
        made.Say(s_all[0]);
        made.Say(s_all[0] with { When = s_noon.Plus(Duration.FromHours(1)) });
        made.Undo("Ada", s_noon);
        // As the first version wrote it: no such columns, no such layers.
        using (var file = new SqliteConnection($"Data Source={folder["judgements.gpkg"]};Pooling=False"))
        {
            file.Open();
            using SqliteCommand command = file.CreateCommand();
            string layers = "'hand_outlines', 'hand_measures', 'mergers', 'parts', 'photographs'";
            command.CommandText = "ALTER TABLE acts DROP COLUMN kind; ALTER TABLE acts DROP COLUMN opinion; ALTER TABLE acts DROP COLUMN content;"
                + $"DELETE FROM gpkg_geometry_columns WHERE table_name IN ({layers}); DELETE FROM gpkg_contents WHERE table_name IN ({layers});"
                + string.Concat(layers.Split(", ").Select(l => $"DROP TABLE {l.Trim('\'')};"));
            command.ExecuteNonQuery();
        }
        JudgementsGeoPackage old = Open(folder);
        Assert.Equal(3, old.Acts.Count);
        Assert.Equal(s_all[0], old.Current["T-1"]);
        old.Say(s_all[3]);
        JudgementsGeoPackage again = Open(folder);
        Assert.Equal(["T-1", "T-2", "T-3"], again.Judged.Group("T-2").Order());
        Assert.Equal(s_all[0], again.Current["T-1"]);
    }

    [Fact]
    public void A_geographic_information_system_reads_outlines_measures_groups_parts_and_photographs()
    {
        using var folder = new TestFolder();
        JudgementsGeoPackage file = Open(folder);
        foreach (Saying said in s_all)
            file.Say(said);
        string seen = OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", folder["judgements.gpkg"]);
        Assert.Contains("POLYGON ((500002 5760001,500000 5760001,500000 5760000,500002 5760001))", seen);
        Assert.Contains("area_m2 (Real) = 1", seen);
        Assert.Contains("length_m (Real) = 1.25", seen);
        Assert.Contains("POINT (500001.5 5760000.25)", seen);
        Assert.Contains("others (String) = T-2, T-3", seen);
        Assert.Contains($"path (String) = photographs/{new string('a', 64)}.jpg", seen);
        Assert.Contains("verdict (String) = accept", seen);
    }

    [Fact]
    public void A_blind_opinion_never_holds_by_itself_and_a_decision_leaves_both_opinions_standing()
    {
        var judged = new JudgedSurvey([s_all[0], s_all[1], s_all[9]]);
        Assert.Equal(Verdict.Doubt, judged.Current["T-1"].Verdict);
        judged = new JudgedSurvey([s_all[0], s_all[1], s_all[9], s_all[2]]);
        Assert.Equal((Verdict.Accept, Verdict.Doubt, Verdict.Reject), (judged.Current["T-1"].Verdict, judged.First["T-1"].Verdict, judged.Second["T-1"].Verdict));
    }

    [Fact]
    public void What_was_said_of_a_target_that_is_gone_is_taken_over_by_a_person_and_undone_again()
    {
        using var copy = new JudgedCopy(small);
        (JudgementDesk desk, Target target) = (copy.Desk, copy.First);
        GridPoint beside = target.Position with { Easting = target.Position.Easting + 0.4 };
        copy.Results.Judgements.Say(new Judgement("T-GONE", beside, Verdict.Accept, 1, "", "Ada", s_noon));
        copy.Results.Judgements.Say(new HandMeasure("T-GONE", beside, 2, null, null, null, "", "Ada", s_noon));
        Assert.Null(desk.Of(target.Id));
        var (said, near) = Assert.Single(copy.Results.Orphans());
        desk.TakeOver(said.TargetId, said.Place, near!, "Ada");
        Assert.Equal(Verdict.Accept, desk.Of(target.Id)!.Verdict);
        Assert.Equal(2, Assert.Single(desk.Judged.Of<HandMeasure>(target.Id)).Length);
        Assert.Empty(copy.Results.Orphans());
        desk.Undo("Ada");
        Assert.Null(desk.Of(target.Id));
        Assert.Single(copy.Results.Orphans());
    }

    [Fact]
    public void The_same_said_again_stays_and_has_the_name_of_who_says_it()
    {
        using var copy = new JudgedCopy(small);
        (JudgementDesk desk, Target target) = (copy.Desk, copy.First);
        foreach (string who in new[] { "Bea", "Ada", "Ada" })
            desk.Change(target, who, j => j with { Verdict = Verdict.Accept });
        Assert.Equal(("Ada", Verdict.Accept), (desk.Of(target.Id)!.Who, desk.Of(target.Id)!.Verdict));
        Assert.Equal(2, copy.Results.Judgements.Acts.Count);
        desk.Undo("Ada");
        Assert.Equal("Bea", desk.Of(target.Id)!.Who);
    }

    [Fact]
    public void Nobody_says_nothing()
    {
        using var copy = new JudgedCopy(small);
        (JudgementDesk desk, Target target) = (copy.Desk, copy.First);
        Assert.Contains("your name: it is missing", Refusal(() => desk.Change(target, " ", j => j with { Verdict = Verdict.Accept })));
        desk.Change(target, "Ada", j => j with { Verdict = Verdict.Accept });
        Assert.Contains("your name: it is missing", Refusal(() => desk.Undo("")));
        Assert.Equal("Ada", desk.Of(target.Id)!.Who);
    }

    [Fact]
    public void Nonsense_is_refused_and_changes_nothing()
    {
        using var copy = new JudgedCopy(small);
        (JudgementDesk desk, Target target) = (copy.Desk, copy.First);
        GridPoint At(double e, double n) => new(e, n, double.NaN);
        Assert.Contains("enclose nothing", Refusal(() => desk.Outline(target, [At(0, 0), At(1, 1)], "")));
        Assert.Contains("crosses itself", Refusal(() => desk.Outline(target, [At(0, 0), At(1, 1), At(1, 0), At(0, 1)], "")));
        Assert.Contains("no split", Refusal(() => desk.Split(target, [At(0, 0)], "")));
        GridPoint far = target.Position with { Northing = target.Position.Northing + 300 };
        Assert.Contains("place 3: it lies 300 m from the target", Refusal(() => desk.Outline(target, [target.Position, target.Position with { Easting = target.Position.Easting + 1 }, far], "")));
        Assert.Contains("300 m from the target", Refusal(() => desk.Split(target, [target.Position, far], "")));
        Assert.Contains("above 0 m", Refusal(() => desk.Measure(target, new HandMeasure("", default, -1, null, null, null, "", "", default), "")));
        Assert.Contains("no JPEG", Refusal(() => desk.AddPhotograph(target, "a.jpg", Encoding.UTF8.GetBytes("<svg onload=alert(1)>" + new string(' ', 100)), "", "Ada")));
        Assert.Contains("your name", Refusal(() => desk.BeginRound(" ")));
        Assert.Empty(copy.Results.Judgements.Acts);
        desk.Change(target, "Ada", j => j with { Verdict = Verdict.Accept });
        Assert.Contains("knows the first opinion", Refusal(() => desk.BeginRound("ada")));
        Assert.Null(HandOutlines.Read("500000, x"));
        Assert.Equal(2, HandOutlines.Read("500000, 5760000\n500001.5 5760000")!.Count);
    }

    [Fact]
    public void Open_undo_leaves_the_second_judges_opinions_alone_and_theirs_the_open_ones()
    {
        using var copy = new JudgedCopy(small);
        (JudgementDesk desk, Target target) = (copy.Desk, copy.First);
        desk.Change(target, "Ada", j => j with { Verdict = Verdict.Accept });
        desk.BeginRound("Bea");
        desk.ChangeBlind(target, j => j with { Verdict = Verdict.Reject });
        Assert.Equal(Verdict.Accept, desk.Of(target.Id)!.Verdict);
        desk.Undo("Ada");
        Assert.Null(desk.Of(target.Id));
        Assert.Equal(Verdict.Reject, desk.Judged.Second[target.Id].Verdict);
        desk.UndoBlind();
        Assert.Empty(desk.Judged.Second);
        Assert.Null(desk.UndoBlind());
        Assert.False(desk.Judged.Round!.IsOver);
    }

    private static JudgementsGeoPackage Open(TestFolder folder) => JudgementsGeoPackage.Open(folder["judgements.gpkg"], ProjectedCrs.FromEpsg(32631, "test"));

    private static string Refusal(Action act) => Assert.Throws<SurveyException>(act).Message;
}
