using System.Net;
using System.Text.RegularExpressions;
using Undersand.Runs.Reporting;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Web;

/// <summary>What visit sheets say, and how many there are.</summary>
public sealed class SheetTests(SmallResults small)
{
    [Fact]
    public async Task Targets_taken_for_one_thing_share_one_sheet_that_names_them_all()
    {
        using var judged = new JudgedCopy(small, targets: 4);
        IReadOnlyList<Target> all = judged.Results.Targets;
        judged.Desk.Merge(all[0], all[1], "Ada");
        judged.Desk.Change(all[0], "Ada", j => j with { Verdict = Verdict.Reject });
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(judged.Folder.Path));
        string[] sheets = Sheets(await Get(workbench, "/sheets"));
        Assert.Equal(all.Count - 1, sheets.Length);
        // What isn't rejected stands for both.
        string sheet = Assert.Single(sheets, s => s.Contains("<h1>Targets 2, 1</h1>", StringComparison.Ordinal));
        foreach (Target target in all.Take(2))
        {
            Assert.Contains(target.Id, sheet);
            Assert.Contains($"<td>{Numbers.Fixed(target.Position.Easting, 2)}</td><td>{Numbers.Fixed(target.Position.Northing, 2)}</td>", sheet);
            Assert.Equal(sheet, Assert.Single(Sheets(await Get(workbench, $"/sheet/{target.Id}"))));
        }
        Assert.Contains($"{all[0].Id}, rejected", sheet);
        Assert.Single(Regex.Matches(await Get(workbench, "/take"), $"/sheet/({all[0].Id}|{all[1].Id})\""));
    }

    [Fact]
    public async Task What_was_rejected_is_crossed_out_in_the_sketch_of_its_neighbours_and_has_no_sheet()
    {
        using var judged = new JudgedCopy(small, targets: 4);
        (Target visited, Target near) = (judged.Results.Targets[0], judged.Results.Targets[2]);
        judged.Desk.Change(near, "Ada", j => j with { Verdict = Verdict.Reject });
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(judged.Folder.Path));
        string sheet = await Get(workbench, $"/sheet/{visited.Id}");
        Assert.Matches($"""class="crossed"[^<]*(</path>)?\s*<text [^>]*class="rejected"[^>]*>{judged.Results.NumberOf(near.Id)}</text>""", sheet);
        Assert.Single(Regex.Matches(sheet, "class=\"crossed\""));
        Assert.Contains("crossed out: rejected, not to be visited.", sheet);
        Assert.Equal(judged.Results.Targets.Count - 1, Sheets(await Get(workbench, "/sheets")).Length);
    }

    [Fact]
    public async Task The_cautions_name_cables_and_looting_as_the_report_does()
    {
        string sheet = Assert.Single(Sheets(WebUtility.HtmlDecode(await small.Client.GetStringAsync($"/sheet/{Shelves.Open(small.Folder).Shown.Results.Targets[0].Id}", TestContext.Current.CancellationToken))));
        Assert.Contains(Safety.Cables.Text, sheet);
        Assert.Contains(Safety.Share("sheet"), sheet);
    }

    private static async Task<string> Get(RunningWorkbench workbench, string path)
    {
        using var client = new HttpClient { BaseAddress = workbench.Address };
        return WebUtility.HtmlDecode(await client.GetStringAsync(path, TestContext.Current.CancellationToken));
    }

    private static string[] Sheets(string page) => [.. Regex.Matches(page, "<article class=\"sheet\">.*?</article>", RegexOptions.Singleline).Select(m => m.Value)];
}
