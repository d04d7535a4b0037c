using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>Metres, feet or fathoms, as a viewer chooses.</summary>
public sealed class UnitsWalkTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task Feet_are_chosen_by_the_keyboard_stay_after_a_restart_and_give_way_to_fathoms()
    {
        using TestFolder copy = small.Copy();
        Target target = OpenedResults.Open(copy.Path).Targets[0];
        RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path));
        int port = workbench.Address.Port;
        await using WatchedPage watched = await browser.OpenAsync(workbench.Address);
        IPage page = watched.Page;
        ILocator choice = page.GetByLabel("Units of lengths and depths"), row = page.Locator($"tr[data-target='{target.Id}']"), readout = page.Locator("#readout");
        await watched.GoAsync($"/?t={target.Id}&d=depth&c=500004.00,5760000.00&r=0.01");
        double before = await SeabedAsync("m");
        await Assertions.Expect(row).ToContainTextAsync(LengthUnit.Metre.Number(target.BurialDepth.Value, 2));
        await choice.FocusAsync();
        await page.Keyboard.PressAsync("f");
        await ShownAsync("feet");
        await Assertions.Expect(choice).ToBeFocusedAsync();
        await FeetAsync();
        Assert.InRange(await SeabedAsync("ft"), before / 0.3048 - 0.02, before / 0.3048 + 0.02);
        await watched.AssertAccessibleAsync();
        string link = new Uri(page.Url).PathAndQuery;
        await page.GotoAsync("about:blank");
        await workbench.DisposeAsync();
        await using RunningWorkbench again = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy.Path, port));
        await watched.GoAsync(link);
        await FeetAsync();
        // A note half written is kept when the units change.
        await page.Locator("#note").FillAsync("half written");
        await choice.SelectOptionAsync("fathoms");
        await ShownAsync("fathoms");
        await Assertions.Expect(page.Locator("#note")).ToHaveValueAsync("half written");
        Assert.InRange(await SeabedAsync("fathoms"), before / 1.8288 - 0.01, before / 1.8288 + 0.01);
        await Assertions.Expect(page.Locator("#map-legend")).ToContainTextAsync("Depth of the seabed, fathoms");
        await Assertions.Expect(row).ToContainTextAsync(LengthUnit.Foot.Number(target.BurialDepth.Value, 2));
        await Assertions.Expect(page.Locator(".details")).ToContainTextAsync(LengthUnit.Fathom.Write(target.Position.Depth, 2) + " below the surface");
        await watched.AssertAccessibleAsync();
        watched.AssertQuiet();

        async Task FeetAsync()
        {
            await Assertions.Expect(page.Locator(".list thead")).ToContainTextAsync("Burial, ft");
            await Assertions.Expect(row).ToContainTextAsync(LengthUnit.Foot.Number(target.BurialDepth.Value, 2));
            await Assertions.Expect(page.Locator("#map-legend")).ToContainTextAsync("Depth of the seabed, ft");
            await Assertions.Expect(page.Locator("#cut-readout")).ToContainTextAsync(new Regex(@"ft long.*within 1\.64 ft"));
            await Assertions.Expect(page.Locator(".details")).ToContainTextAsync(new Regex(@"ft below the seabed.*ft below the surface", RegexOptions.Singleline));
        }

        async Task ShownAsync(string name)
        {
            await page.WaitForFunctionAsync("name => document.documentElement.dataset.units === name", name);
            await watched.ConnectedAsync();
        }

        async Task<double> SeabedAsync(string unit)
        {
            await page.Mouse.MoveAsync(0, 0);
            await page.Locator("#map").HoverAsync();
            var seabed = new Regex($@"seabed (\d+\.\d\d) {unit} below the surface");
            await Assertions.Expect(readout).ToContainTextAsync(seabed);
            return double.Parse(seabed.Match((await readout.TextContentAsync())!).Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture);
        }
    }

    [Fact]
    public async Task The_palette_and_a_link_choose_too_and_a_metre_measured_is_three_feet_and_a_bit()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync("/?c=500004.00,5760000.00&r=0.01&units=fathoms");
        await Assertions.Expect(page.Locator("#map-legend")).ToContainTextAsync("fathoms");
        await watched.PressAsync("p");
        await page.Keyboard.TypeAsync("lengths in feet");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("() => document.documentElement.dataset.units === 'feet'");
        await watched.ConnectedAsync();
        await watched.PressAsync("m");
        await page.Locator("#map").ClickAsync(new() { Position = new() { X = 300, Y = 300 } });
        await page.Locator("#map").ClickAsync(new() { Position = new() { X = 400, Y = 300 } });
        await Assertions.Expect(page.Locator("#readout")).ToContainTextAsync(new Regex(@"^3\.28 ft towards 90\.0° \(grid\).*E 50000"));
        watched.AssertQuiet();
    }

    [Fact]
    public async Task On_a_narrow_screen_the_longest_unit_is_not_lost_sideways()
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage watched = await browser.OpenAsync(small.Address, width: 320, height: 700);
        foreach (string path in new[] { $"/?t={id}&units=fathoms", $"/?t={id}&low=volume&as=both", "/lines", $"/sheet/{id}" })
        {
            await watched.GoAsync(path);
            Assert.Equal(320, await watched.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        }
        await watched.GoAsync("/");
        await Assertions.Expect(watched.Page.GetByLabel("Units of lengths and depths")).ToBeVisibleAsync();
    }
}
