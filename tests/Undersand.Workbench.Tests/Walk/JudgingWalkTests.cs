using Microsoft.Playwright;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>Tasks 5 and 8, by a person at the screen: more than a verdict, a second opinion, and telling others.</summary>
public sealed class JudgingWalkTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task Outline_parts_measures_and_a_photograph_are_kept_shown_and_undone()
    {
        using TestFolder copy = small.Copy();
        Target target = OpenedResults.Open(copy.Path).Targets[0];
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        IPage page = watched.Page;
        await watched.GoAsync(FormattableString.Invariant($"/?t={target.Id}&c={target.Position.Easting:0.00},{target.Position.Northing:0.00}&r=0.01"));
        // An outline drawn with the pointer, ended by a key.
        await watched.PressAsync("o");
        foreach (var (x, y) in new[] { (300, 100), (400, 100), (400, 200), (300, 200) })
            await page.Locator("#map").ClickAsync(new() { Position = new() { X = x, Y = y } });
        await page.Keyboard.PressAsync("f");
        await Assertions.Expect(page.Locator(".hand")).ToContainTextAsync("Outline of 1.00 m²");
        // Parts typed.
        await page.GetByText("Merge or split").ClickAsync();
        await page.GetByLabel("Several things, at").FillAsync(FormattableString.Invariant($"{target.Position.Easting:0.00}, {target.Position.Northing:0.00}\n{target.Position.Easting + 1:0.00}, {target.Position.Northing:0.00}"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Split" }).ClickAsync();
        await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("2 things");
        // Measures.
        await page.GetByText("Outline and measures").ClickAsync();
        await page.GetByLabel("Length, m", new() { Exact = true }).FillAsync("1,4");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep measures" }).ClickAsync();
        await Assertions.Expect(page.Locator(".hand")).ToContainTextAsync("1.4 × ? × ? m");
        // A picture, and something that only says it is one.
        await page.Locator("summary", new() { HasText = "Photographs" }).ClickAsync();
        await page.Locator("#caption").FillAsync("a pot");
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "a.png", MimeType = "image/png", Buffer = OnePixel.Png });
        await Assertions.Expect(page.Locator(".photograph img")).ToHaveAttributeAsync("alt", "a pot");
        Assert.Single(Directory.EnumerateFiles(copy["photographs"], "*.png"));
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "b.png", MimeType = "image/png", Buffer = [1, 2, 3, 4, 5, 6, 7, 8] });
        await Assertions.Expect(page.Locator(".said .fault")).ToContainTextAsync("no JPEG, PNG or WebP");
        // The sheet has them; then all is undone, newest first.
        await page.Locator("#map").FocusAsync();
        for (int i = 0; i < 4; i++)
        {
            await page.Keyboard.PressAsync("u");
            await Assertions.Expect(page.Locator(".undo [role=status]")).ToContainTextAsync("Undone");
            await page.WaitForTimeoutAsync(150);
        }
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Undo" })).ToBeDisabledAsync();
        await Assertions.Expect(page.Locator(".photograph")).ToHaveCountAsync(0);
        Assert.Empty(OpenedResults.Open(copy.Path).Judgements.Judged.All<Saying>());
        watched.AssertQuiet();
    }

    [Fact]
    public async Task A_second_judge_goes_through_the_targets_blind_and_both_are_compared()
    {
        using var copy = new JudgedCopy(small);
        copy.Desk.Change(copy.First, "Ada", j => j with { Verdict = Verdict.Accept });
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Folder.Path));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/second");
        await page.GetByLabel("Second judge's name").FillAsync("Bea");
        await page.GetByRole(AriaRole.Button, new() { Name = "Judge blind" }).ClickAsync();
        await watched.ConnectedAsync();
        await Assertions.Expect(page.Locator(".list-head h2")).ToContainTextAsync("Second opinion, blind");
        await watched.GoAsync("/?units=feet");
        await Assertions.Expect(page.Locator(".list thead")).ToContainTextAsync("Burial, ft");
        for (int i = 0; i < copy.Results.Targets.Count; i++)
        {
            await watched.PressAsync("j");
            await Assertions.Expect(page.Locator("#details-title")).ToHaveTextAsync($"Target B{i + 1}");
            await page.Keyboard.PressAsync("r");
            await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("rejected");
        }
        await page.GetByRole(AriaRole.Link, new() { Name = "End the round" }).ClickAsync();
        await page.GetByRole(AriaRole.Checkbox).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "End the round" }).ClickAsync();
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("accepted by Ada");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("rejected by Bea");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("open: choose the target and judge it");
        watched.AssertQuiet();
    }

    [Fact]
    public async Task Reports_sheets_and_the_public_link_are_a_click_away()
    {
        using TestFolder copy = small.Copy();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/take");
        await page.GetByLabel("Whom to ask").FillAsync("The harbour office");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep title and contact" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Whom to ask")).ToHaveValueAsync("The harbour office");
        await page.GetByRole(AriaRole.Link, new() { Name = "Public version" }).ClickAsync();
        await Assertions.Expect(page.Locator("#main")).ToContainTextAsync("The harbour office");
        await watched.GoAsync("/take");
        await page.GetByRole(AriaRole.Link, new() { Name = "Report with judgements" }).ClickAsync();
        await Assertions.Expect(page.Locator("#main")).ToContainTextAsync("What people make of it");
        await watched.GoAsync("/take");
        await page.GetByRole(AriaRole.Link, new() { Name = "All in visiting order" }).ClickAsync();
        await Assertions.Expect(page.Locator(".sheet")).ToHaveCountAsync(OpenedResults.Open(copy.Path).Targets.Count);
        watched.AssertQuiet();
    }
}
