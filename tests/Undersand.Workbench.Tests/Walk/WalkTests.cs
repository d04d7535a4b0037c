using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>The workbench as people use it, in a browser with an empty profile.</summary>
public sealed class WalkTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task From_the_map_to_a_section_to_a_judgement_that_survives_a_restart()
    {
        using TestFolder copy = small.Copy();
        string id = OpenedResults.Open(copy.Path).Targets[0].Id, link;
        await using (RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path)))
        await using (WatchedPage watched = await browser.OpenAsync(workbench.Address, who: ""))
        {
            IPage page = watched.Page;
            await watched.GoAsync("/");
            // Where are we? Positions under the cursor in both systems.
            await page.Locator("#map").HoverAsync();
            await Assertions.Expect(page.Locator("#readout")).ToContainTextAsync(new Regex(@"E 50000\d\.\d\d  N 57600\d\d\.\d\d · 51\.99\d+° N 3\.0000\d+° E|E 50000\d\.\d\d  N 575999\d\.\d\d · 51\.99\d+° N 3\.0000\d+° E"));
            await Assertions.Expect(page.Locator("#map-legend")).ToContainTextAsync("Depth of the seabed, m");
            // The first target by the keyboard; list, details and link follow.
            await watched.PressAsync("j");
            await Assertions.Expect(page.Locator("#details-title")).ToContainTextAsync(id);
            await Assertions.Expect(page.Locator("tr.chosen")).ToHaveAttributeAsync("data-target", id);
            await Assertions.Expect(page).ToHaveURLAsync(new Regex("t=" + id));
            await Assertions.Expect(page.Locator(".details")).ToContainTextAsync("not calibrated yet");
            // A section through it.
            await page.Keyboard.PressAsync("x");
            await Assertions.Expect(page.Locator("#cut-readout")).ToContainTextAsync("1 target within 0.5 m");
            await page.Locator("#cut-quantity").SelectOptionAsync("probability");
            await page.WaitForFunctionAsync("() => performance.getEntriesByType('resource').some(r => r.name.includes('/section/probability/'))");
            // Judge, note, rank.
            await page.GetByRole(AriaRole.Button, new() { Name = "Accept" }).ClickAsync();
            await Assertions.Expect(page.Locator(".said")).ToContainTextAsync("Who says so?");
            await Assertions.Expect(page.Locator("#who")).ToBeFocusedAsync();
            await page.Keyboard.TypeAsync("Ada");
            await page.Keyboard.PressAsync("Enter");
            await Assertions.Expect(page.Locator(".said")).ToContainTextAsync("Saved. Ada");
            await page.Locator("#note").FillAsync("round and hard");
            await page.Locator("#note").BlurAsync();
            await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("accepted");
            await watched.PressAsync("1");
            await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("first");
            await Assertions.Expect(page).ToHaveURLAsync(new Regex("w=probability"));
            link = new Uri(page.Url).PathAndQuery;
            watched.AssertQuiet();
        }
        await using (RunningWorkbench again = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path)))
        await using (WatchedPage watched = await browser.OpenAsync(again.Address))
        {
            IPage page = watched.Page;
            // The link shows a colleague the same; what was judged is there, and can still be undone.
            await watched.GoAsync(link);
            await Assertions.Expect(page.Locator("#details-title")).ToContainTextAsync(id);
            await Assertions.Expect(page.Locator("#cut-quantity")).ToHaveValueAsync("probability");
            await Assertions.Expect(page.Locator("#note")).ToHaveValueAsync("round and hard");
            await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("accepted · first");
            await watched.PressAsync("u");
            await Assertions.Expect(page.Locator("tr.chosen")).Not.ToContainTextAsync("first");
            await page.Keyboard.PressAsync("u");
            await page.Keyboard.PressAsync("u");
            await Assertions.Expect(page.Locator("tr.chosen")).Not.ToContainTextAsync("accepted");
            await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Undo" })).ToBeDisabledAsync();
            Assert.Equal(new Uri(page.Url).PathAndQuery, link);
            watched.AssertQuiet();
        }
    }

    [Fact]
    public async Task The_lines_are_sorted_by_what_one_asks_for()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        await watched.GoAsync("/lines");
        ILocator names = watched.Page.Locator("table.lines tbody td:first-child"), by = watched.Page.GetByRole(AriaRole.Button, new() { Name = "Line", Exact = true });
        string[] up = [.. await names.AllInnerTextsAsync()];
        Assert.True(up.Length > 1);
        Assert.Equal(up.Order(StringComparer.Ordinal), up);
        // The grid's script holds the table by an attribute of its own, once the page is connected.
        await watched.Page.WaitForFunctionAsync("() => document.querySelector('table.lines').getAttributeNames().some(n => n.startsWith('_bl_'))");
        await by.ClickAsync();
        await Assertions.Expect(names).ToHaveTextAsync([.. up.Reverse()]);
        await Assertions.Expect(watched.Page.GetByRole(AriaRole.Columnheader, new() { Name = "Line", Exact = true })).ToHaveAttributeAsync("aria-sort", "descending");
        watched.AssertQuiet();
    }

    [Fact]
    public async Task A_section_taller_than_its_panel_is_moved_up_and_down_and_the_link_keeps_it()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        await watched.GoAsync("/");
        ILocator words = watched.Page.Locator("#cut-readout");
        await Assertions.Expect(words).Not.ToContainTextAsync("for the rest");
        await watched.GoAsync("/?h=8");
        await Assertions.Expect(words).ToContainTextAsync("for the rest");
        string before = await words.InnerTextAsync();
        await watched.Page.Locator("#section").FocusAsync();
        await watched.Page.Keyboard.PressAsync("ArrowDown");
        await Assertions.Expect(watched.Page).ToHaveURLAsync(new Regex(@"[?&]z=0\.\d"));
        await Assertions.Expect(words).Not.ToHaveTextAsync(before);
        string seen = await words.InnerTextAsync();
        await watched.GoAsync(new Uri(watched.Page.Url).PathAndQuery);
        await Assertions.Expect(words).ToHaveTextAsync(seen);
        watched.AssertQuiet();
    }

    [Fact]
    public async Task A_colleague_sees_a_judgement_without_asking_again()
    {
        using TestFolder copy = small.Copy();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        await using WatchedPage one = await browser.OpenAsync(workbench.Address), other = await browser.OpenAsync(workbench.Address);
        await one.GoAsync("/");
        await other.GoAsync("/");
        await one.PressAsync("j");
        await Assertions.Expect(one.Page.Locator("tr.chosen")).ToBeVisibleAsync();
        await one.Page.Keyboard.PressAsync("d");
        await Assertions.Expect(other.Page.Locator(".list tbody")).ToContainTextAsync("in doubt");
    }

    [Fact]
    public async Task When_the_program_comes_back_so_does_the_page()
    {
        using TestFolder copy = small.Copy();
        RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        int port = workbench.Address.Port;
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        await watched.GoAsync("/?g=seen");
        await workbench.DisposeAsync();
        await Assertions.Expect(watched.Page.Locator("#components-reconnect-modal")).ToBeVisibleAsync(new() { Timeout = 15_000 });
        await using RunningWorkbench again = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path, port));
        await Assertions.Expect(watched.Page.Locator("#components-reconnect-modal")).Not.ToBeVisibleAsync(new() { Timeout = 30_000 });
        await watched.ConnectedAsync();
        await Assertions.Expect(watched.Page.Locator("#map-quantity")).ToHaveValueAsync("seen");
    }

    [Fact]
    public async Task The_palette_finds_targets_commands_and_places()
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/");
        async Task Find(string words)
        {
            await watched.PressAsync("p");
            await page.Keyboard.TypeAsync(words);
            await page.Keyboard.PressAsync("Enter");
        }
        await Find("target 1");
        await Assertions.Expect(page.Locator("#details-title")).ToContainTextAsync(id);
        await Find("slice coherence");
        await Assertions.Expect(page.Locator("#map-quantity")).ToHaveValueAsync("slice.coherence");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("g=slice.coherence&b="));
        await Find("line-02");
        await Assertions.Expect(page.Locator("#cut-line")).ToHaveValueAsync("line-02.sgy");
        await Find("500002.5, 5760001");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("c=500002.50,5760001.00"));
        watched.AssertQuiet();
    }

    [Fact]
    public async Task Measuring_needs_no_pointer_and_snaps_to_nothing_it_should_not()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/?c=500004.00,5760000.00&r=0.01");
        await watched.PressAsync("m");
        await page.Keyboard.PressAsync("Enter");
        await page.GotoAsync(page.Url);
        await watched.ConnectedAsync();
        await watched.PressAsync("m");
        await page.Locator("#map").ClickAsync(new() { Position = new() { X = 300, Y = 300 } });
        await page.Locator("#map").ClickAsync(new() { Position = new() { X = 400, Y = 300 } });
        await Assertions.Expect(page.Locator("#readout")).ToContainTextAsync(new Regex(@"^1\.00 m towards 90\.0° \(grid\)"));
        await page.Keyboard.PressAsync("Escape");
        await page.Keyboard.PressAsync("?");
        await Assertions.Expect(page.Locator("#help")).ToBeVisibleAsync();
        watched.AssertQuiet();
    }
}
