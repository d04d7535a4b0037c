using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>Task 7: while it happens.</summary>
public sealed class RunsWalkTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    // Runs take what the machine gives them.
    private const float Patience = 240_000;

    [Fact]
    public async Task Lines_that_arrive_are_judged_imaged_and_shown_and_an_open_map_comes_back_to_its_link()
    {
        using var place = new TestFolder();
        Directory.CreateDirectory(place["survey"]);
        foreach (string table in new[] { "survey.json", "array.json", "navigation.csv", "pings.csv" })
            File.Copy(Path.Combine(small.Survey, table), place["survey/" + table]);
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(place["survey"]) { Watch = true });
        await using WatchedPage runs = await browser.OpenAsync(workbench.Address), map = await browser.OpenAsync(workbench.Address);
        await runs.Page.GotoAsync(workbench.Address.ToString());
        await Assertions.Expect(runs.Page).ToHaveURLAsync(new Regex("/runs$"));
        await Assertions.Expect(runs.Page.Locator("main")).ToContainTextAsync("There are no results yet.");
        await Assertions.Expect(runs.Page.Locator("main")).ToContainTextAsync("No recording has arrived yet.");

        byte[] whole = File.ReadAllBytes(Path.Combine(small.Survey, "line-01.sgy"));
        File.WriteAllBytes(place["survey/line-01.sgy"], whole[..1000]);
        await Assertions.Expect(runs.Page.Locator("table")).ToContainTextAsync("arriving", new() { Timeout = Patience });
        File.WriteAllBytes(place["survey/line-01.sgy"], whole);
        await Assertions.Expect(runs.Page.Locator("table")).ToContainTextAsync(new Regex(@"line-01\.sgy\s*imaged"), new() { Timeout = Patience });
        await Assertions.Expect(runs.Page.Locator("main")).ToContainTextAsync("Provisional.");
        await Assertions.Expect(runs.Page.Locator(".swaths .track")).ToHaveCountAsync(1);

        await map.GoAsync("/?g=seen&w=coherence");
        await map.Page.Locator("#filter").FillAsync("x");
        File.Copy(Path.Combine(small.Survey, "line-02.sgy"), place["survey/line-02.sgy"]);
        // Who writes is not interrupted.
        await Assertions.Expect(map.Page.Locator("#renewed")).ToContainTextAsync("as soon as nothing is being written or drawn", new() { Timeout = Patience });
        await Assertions.Expect(map.Page.Locator("#cut-line option")).ToHaveCountAsync(2);
        await map.Page.Locator("#filter").BlurAsync();
        await Assertions.Expect(map.Page.Locator("#cut-line option")).ToHaveCountAsync(3, new() { Timeout = 30_000 });
        await Assertions.Expect(map.Page.Locator("#renewed")).ToContainTextAsync("New results: the page shows them now.");
        await Assertions.Expect(map.Page.Locator("#map-quantity")).ToHaveValueAsync("seen");
        await Assertions.Expect(map.Page.Locator("#cut-quantity")).ToHaveValueAsync("coherence");
        await Assertions.Expect(map.Page.Locator("#filter")).ToHaveValueAsync("x");
        map.AssertQuiet();
        runs.AssertQuiet();
    }

    [Fact]
    public async Task A_run_is_started_by_the_keyboard_goes_on_without_its_page_and_can_be_stopped()
    {
        using var place = new TestFolder();
        using var runner = new StandInRunner();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(small.Survey) { Out = place["results"], Runner = runner });
        await using (WatchedPage first = await browser.OpenAsync(workbench.Address))
        {
            await first.Page.GotoAsync(workbench.Address.ToString());
            ILocator start = first.Page.GetByRole(AriaRole.Button, new() { Name = "Process the survey" });
            await first.Page.WaitForFunctionAsync("() => window.Blazor !== undefined");
            // Until the page is connected, a key does nothing.
            for (int i = 0; i < 40 && runner.Asked.Count == 0; i++)
            {
                await start.PressAsync("Enter", new() { Timeout = 2000 });
                await first.Page.WaitForTimeoutAsync(500);
            }
            await Assertions.Expect(first.Page.Locator(".steps .now")).ToContainTextAsync("Summing the echoes: 4 of 10 tiles (40 %)");
        }
        await using WatchedPage again = await browser.OpenAsync(workbench.Address);
        await again.Page.GotoAsync(new Uri(workbench.Address, "/runs").ToString());
        await Assertions.Expect(again.Page.Locator(".run-strip")).ToContainTextAsync("Run at work");
        await Assertions.Expect(again.Page.Locator(".steps .now")).ToContainTextAsync("4 of 10 tiles");
        await again.Page.GetByRole(AriaRole.Button, new() { Name = "Stop", Exact = true }).ClickAsync();
        await Assertions.Expect(again.Page.GetByRole(AriaRole.Button, new() { Name = "Go on where it stopped" })).ToBeVisibleAsync();
        await Assertions.Expect(again.Page.Locator(".past")).ToContainTextAsync("Stopped; what is done so far is kept");
        Assert.Single(runner.Asked);
        again.AssertQuiet();
    }

    [Theory]
    [InlineData("light")]
    [InlineData("dark")]
    [InlineData("night")]
    [InlineData("sun")]
    public async Task Nothing_stands_in_anyones_way_with_a_run_at_work_and_lines_judged(string theme)
    {
        using var place = new TestFolder();
        using var runner = new StandInRunner();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(small.Survey) { Out = place["results"], Watch = true, Runner = runner });
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address, theme, width: 320, height: 700);
        await watched.Page.GotoAsync(new Uri(workbench.Address, "/runs").ToString());
        await Assertions.Expect(watched.Page.Locator(".swaths .track")).ToHaveCountAsync(2, new() { Timeout = Patience });
        await Assertions.Expect(watched.Page.Locator(".steps .now")).ToBeVisibleAsync();
        await watched.AssertAccessibleAsync();
        Assert.Equal(320, await watched.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
    }
}
