using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>Raw echoes beneath the plan.</summary>
public sealed class EchoWalkTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task A_lines_echoes_with_another_receiver_and_gain_are_in_the_link()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/?l=line-02.sgy");
        await watched.PressAsync("v");
        await page.Keyboard.PressAsync("v");
        await Assertions.Expect(page.Locator("#echoes")).ToHaveAttributeAsync("data-drawn", "echoes", new() { Timeout = 30_000 });
        await Assertions.Expect(page.Locator("#echo-readout")).ToContainTextAsync("Receiver 1 of line-02.sgy");
        await page.Locator("#echo-receiver").SelectOptionAsync(new SelectOptionValue { Label = "4" });
        await page.Locator("#echo-gain").SelectOptionAsync("20");
        await Assertions.Expect(page.Locator("#echo-readout")).ToContainTextAsync(new Regex("Receiver 4 of line-02.sgy.*0 dB: exceeded by one sample in a thousand.*gain 20 dB"));
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("low=echoes&rec=3&gain=20"));
        await page.WaitForFunctionAsync("() => performance.getEntriesByType('resource').some(r => r.name.includes('/echoes/3/0/0.png') && r.name.includes('gain=20'))");
        await page.Locator("#echoes").FocusAsync();
        await page.Keyboard.PressAsync("+");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex(@"x=\d"));
        await page.ReloadAsync();
        await watched.ConnectedAsync();
        await Assertions.Expect(page.Locator("#echo-readout")).ToContainTextAsync("Receiver 4 of line-02.sgy", new() { Timeout = 30_000 });
        watched.AssertQuiet();
    }

    [Fact]
    public async Task Without_the_recordings_the_panel_says_what_to_do()
    {
        using TestFolder copy = small.Copy("results");
        await using RunningWorkbench alone = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy["results"]));
        await using WatchedPage watched = await browser.OpenAsync(alone.Address);
        await watched.GoAsync("/?low=echoes");
        await Assertions.Expect(watched.Page.Locator("#echo-readout")).ToContainTextAsync("put the survey's folder, unchanged, beside", new() { Timeout = 30_000 });
        watched.AssertQuiet();
    }
}
