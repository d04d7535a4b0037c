using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.Surveys;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>The seabed laid by hand over the echoes.</summary>
public sealed class LayingWalkTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    private const string Line = "line-02.sgy";

    [Fact]
    public async Task Two_places_drawn_are_kept_shown_again_and_taken_back()
    {
        using TestFolder copy = small.CopyWithRecordings();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy["results"]));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        IPage page = watched.Page;
        ILocator said = page.Locator("#lay-said"), echoes = page.Locator("#echoes");
        await watched.GoAsync("/?l=" + Line);
        await watched.PressAsync("h");
        await Assertions.Expect(echoes).ToBeFocusedAsync(new() { Timeout = 30_000 });
        await Assertions.Expect(said).ToContainTextAsync("press Enter at the cross");
        // One place by the keyboard, one by the pointer; a third is taken back.
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(said).ToContainTextAsync(new Regex(@"Drawn, not kept yet: ping \d+, [56]\.\d\d m"));
        LocatorBoundingBoxResult box = (await echoes.BoundingBoxAsync())!;
        await echoes.ClickAsync(new() { Position = new() { X = box.Width * 0.9f, Y = box.Height * 0.55f } });
        await Assertions.Expect(said).ToContainTextAsync(new Regex(@"pings \d+ to \d+"));
        await page.Keyboard.PressAsync("Shift+ArrowLeft");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(said).ToContainTextAsync("over 3 places");
        await page.Keyboard.PressAsync("Backspace");
        await Assertions.Expect(said).Not.ToContainTextAsync("places");
        await watched.AssertAccessibleAsync("while drawing");
        Assert.False(File.Exists(copy["results", SeabedByHand.FileName]));

        await page.Keyboard.PressAsync("f");
        await page.Locator("#lay input[name=who]").FillAsync("Ada");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(said).ToContainTextAsync("Kept. It counts when the survey is processed again");
        SeabedStretch kept = Assert.Single(SeabedByHand.Read(copy["results"]));
        Assert.Equal((Line, "Ada"), (kept.Line, kept.Who));
        Assert.InRange(kept.FirstPing, 1, kept.LastPing - 1);

        await page.ReloadAsync();
        await watched.ConnectedAsync();
        await Assertions.Expect(page.Locator("#laid summary")).ToHaveTextAsync("Seabed by hand on this line: 1", new() { Timeout = 30_000 });
        await page.Locator("#laid summary").ClickAsync();
        await Assertions.Expect(page.Locator("#laid li")).ToContainTextAsync($"pings {kept.FirstPing} to {kept.LastPing}");
        await Assertions.Expect(page.Locator("#laid li")).ToContainTextAsync("laid by Ada");
        await watched.AssertAccessibleAsync("with what was laid");
        await page.Locator("#laid li button").ClickAsync();
        await Assertions.Expect(said).ToContainTextAsync("Taken back");
        Assert.Empty(SeabedByHand.Read(copy["results"]));
        watched.AssertQuiet();
    }

    [Fact]
    public async Task A_table_that_cannot_be_read_is_said_and_nothing_is_lost_on_a_narrow_screen()
    {
        using TestFolder copy = small.CopyWithRecordings();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy["results"]));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address, width: 320, height: 700);
        IPage page = watched.Page;
        await watched.GoAsync($"/?l={Line}&low=echoes");
        await Assertions.Expect(page.Locator("#echoes")).ToHaveAttributeAsync("data-drawn", "echoes", new() { Timeout = 30_000 });
        await page.Locator("#echo-lay").ClickAsync();
        await page.Locator("#echoes").ClickAsync(new() { Position = new() { X = 100, Y = 100 } });
        await page.Locator("#echoes").ClickAsync(new() { Position = new() { X = 150, Y = 100 } });
        await Assertions.Expect(page.Locator("#lay-said")).ToContainTextAsync("Drawn, not kept yet: pings");
        Assert.Equal(320, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        copy.Write(Path.Combine("results", SeabedByHand.FileName), "file,first_ping,first_depth_m,last_ping,last_depth_m,who,when_utc\nline-02.sgy,20,deep,40,6.0,Ada,2026-05-05T08:00:00Z\n");
        await page.Locator("#lay input[name=who]").FillAsync("Ada");
        await page.Locator("#lay-save").ClickAsync();
        await Assertions.Expect(page.Locator("#lay-said")).ToContainTextAsync("Not kept.");
        await Assertions.Expect(page.Locator("#lay-said")).ToContainTextAsync("line 2, first_depth_m");
        await page.Locator("#lay-off").ClickAsync();
        await Assertions.Expect(page.Locator("#lay")).ToBeHiddenAsync();
        watched.AssertQuiet();
    }

    [Fact]
    public async Task What_is_typed_goes_the_same_way()
    {
        using TestFolder copy = small.Copy();
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/lines");
        foreach (var (name, value) in new[] { ("First", "20"), ("FirstDepth", "1"), ("Last", "40"), ("LastDepth", "6"), ("Who", "Ada") })
            await page.Locator($"input[name={name}]").FillAsync(value);
        await page.GetByRole(AriaRole.Button, new() { Name = "Lay the seabed here" }).ClickAsync();
        await Assertions.Expect(page.Locator("#laying-fault")).ToContainTextAsync("a seabed at 1.00 m would not lie below the source");
        await page.Locator("input[name=FirstDepth]").FillAsync("5.95");
        await page.GetByRole(AriaRole.Button, new() { Name = "Lay the seabed here" }).ClickAsync();
        await Assertions.Expect(page.Locator(".laid li")).ToContainTextAsync("pings 20 to 40, 5.95 m to 6.00 m, laid by Ada");
        await watched.AssertAccessibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Take back line-01.sgy, pings 20 to 40" }).ClickAsync();
        await Assertions.Expect(page.Locator(".laid li")).ToHaveCountAsync(0);
        watched.AssertQuiet();
    }
}
