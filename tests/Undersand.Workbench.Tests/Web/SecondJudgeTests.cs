using System.Net;
using System.Net.Http;
using System.Text.RegularExpressions;
using Undersand.Runs.Reporting;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Web;

/// <summary>That the second judge's browser is sent nothing it must not know: the bytes count, not what a page hides.</summary>
public class SecondJudgeTests(SmallResults small)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task While_the_round_runs_neither_page_nor_data_hold_probability_rank_or_the_first_opinion()
    {
        using var copy = new JudgedCopy(small);
        Target target = copy.First;
        copy.Desk.Change(target, "Ada M.", j => j with { Verdict = Verdict.Reject, Note = "surely a stone" });
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Folder.Path));
        using var blind = new HttpClient(new HttpClientHandler { CookieContainer = new CookieContainer() }) { BaseAddress = workbench.Address };
        using var open = new HttpClient { BaseAddress = workbench.Address };
        await Post(blind, "/second/begin", ("who", "Bea"));

        string probability = Numbers.Probability(target.Probability.Value).Replace("> ", "&gt; ", StringComparison.Ordinal);
        string[] withheld = [$">{probability}<", $"{target.Probability.Value:0.0000}"[..6], "surely a stone", "rejected", "Ada M.", "Bayes", "Target 1<", "\"probability\"", "echo-lay", "id=\"laid\""];
        foreach (string path in new[] { "/", $"/?t={target.Id}&sort=p", "/api/view", "/second", "/value?e=500004&n=5760000" })
        {
            string answer = await blind.GetStringAsync(path, Stop);
            if (path.StartsWith("/value", StringComparison.Ordinal))
                Assert.Contains("\"probability\":null", answer);
            else
                Assert.All(withheld, w => Assert.DoesNotContain(w, answer, StringComparison.Ordinal));
        }
        // Open eyes still see all of it, so the search above can fail.
        string seen = await open.GetStringAsync($"/?t={target.Id}", Stop) + await open.GetStringAsync("/api/view", Stop);
        Assert.All(new[] { $">{probability}<", "surely a stone", "rejected", "Ada M.", "\"probability\"", "echo-lay", "id=\"laid\"" }, w => Assert.Contains(w, seen, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("/map/probability/0/0/0.png")]
    [InlineData("/slice/probability/0/0/0/0.png")]
    [InlineData("/section/probability/0/0.png?line=line-01.sgy")]
    [InlineData("/files/targets.csv")]
    [InlineData("/files/report.html")]
    [InlineData("/files/judgements.gpkg")]
    [InlineData("/files/maps/probability.tif")]
    [InlineData("/ogc/collections/targets/items")]
    [InlineData("/take")]
    [InlineData("/sheets")]
    [InlineData("/public")]
    [InlineData("/told/report.html")]
    [InlineData("/report")]
    [InlineData("/report/judged")]
    [InlineData("/seabed?line=line-01.sgy&receiver=0")]
    [InlineData("/whatever-comes-later")]
    public async Task All_else_is_withheld_from_that_browser_until_the_round_is_over(string path)
    {
        using TestFolder copy = small.Copy();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        using var blind = new HttpClient(new HttpClientHandler { CookieContainer = new CookieContainer() }) { BaseAddress = workbench.Address };
        await Post(blind, "/second/begin", ("who", "Bea"));
        using (HttpResponseMessage answer = await blind.GetAsync(path, Stop))
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        await Post(blind, "/second/end", ("sure", "on"));
        using HttpResponseMessage after = await blind.GetAsync(path, Stop);
        Assert.NotEqual(HttpStatusCode.Forbidden, after.StatusCode);
    }

    [Fact]
    public async Task A_strangers_form_begins_no_round()
    {
        using HttpResponseMessage refused = await small.Client.PostAsync("/second/begin", new FormUrlEncodedContent([new("who", "Bea")]), Stop);
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
    }

    [Fact]
    public void The_order_is_by_chance_but_the_same_each_time()
    {
        var desk = new JudgementDesk(Shelves.Open(small.Folder));
        Assert.Equal(desk.Shuffled("a").Select(t => t.Id), desk.Shuffled("a").Select(t => t.Id));
        Assert.Equal(OpenedResults.Open(small.Folder).Targets.Select(t => t.Id).Order(), desk.Shuffled("b").Select(t => t.Id).Order());
    }

    private static async Task Post(HttpClient client, string path, params (string Name, string Value)[] fields)
    {
        string form = await client.GetStringAsync("/second", Stop);
        string token = Regex.Match(form, @"name=""__RequestVerificationToken"" value=""([^""]+)""").Groups[1].Value;
        using HttpResponseMessage answer = await client.PostAsync(path, new FormUrlEncodedContent(fields.Append(("__RequestVerificationToken", token)).Select(f => new KeyValuePair<string, string>(f.Item1, f.Item2))), Stop);
        Assert.True(answer.IsSuccessStatusCode, $"{answer.StatusCode}: {await answer.Content.ReadAsStringAsync(Stop)}");
        Assert.DoesNotContain("Not begun", await answer.Content.ReadAsStringAsync(Stop));
    }
}
