using Microsoft.Playwright;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>That nobody is kept out: every page in every theme, narrow screens, gloves.</summary>
public sealed class AccessTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData("light")]
    [InlineData("dark")]
    [InlineData("night")]
    [InlineData("sun")]
    public async Task Nothing_stands_in_anyones_way_in_any_theme(string theme)
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage watched = await browser.OpenAsync(small.Address, theme);
        foreach (string path in new[] { $"/?t={id}", $"/?t={id}&low=volume&as=both", "/?low=echoes", "/lines", "/take", "/second", "/public", "/sheets", $"/sheet/{id}", "/report", "/report/judged", "/nowhere" })
        {
            await watched.GoAsync(path);
            if (path != "/public")
                Assert.Equal(theme, await watched.Page.EvaluateAsync<string>("document.documentElement.dataset.theme"));
            await watched.AssertAccessibleAsync(path);
        }
        await watched.GoAsync($"/?t={id}");
        // What the map's signs mean, drawn: none is empty.
        await watched.Page.GetByText("Signs", new() { Exact = true }).ClickAsync();
        await Assertions.Expect(watched.Page.Locator("#signs li")).ToHaveCountAsync(13);
        Assert.Equal(10, await watched.Page.EvaluateAsync<int>("() => [...document.querySelectorAll('#signs canvas')].filter(c => c.getContext('2d').getImageData(0, 0, c.width, c.height).data.some(v => v)).length"));
        await watched.AssertAccessibleAsync("the signs");
        foreach (string key in new[] { "?", "p" })
        {
            await watched.PressAsync(key);
            await Assertions.Expect(watched.Page.Locator("dialog[open]")).ToBeVisibleAsync();
            await watched.AssertAccessibleAsync("the dialog of " + key);
            await watched.Page.Keyboard.PressAsync("Escape");
        }
    }

    [Fact]
    public async Task With_gloves_on_everything_is_large_enough_and_else_large_enough_for_a_finger()
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        string[] pages = [$"/?t={id}", $"/?t={id}&low=volume&as=both", "/?low=echoes"];
        foreach (string path in pages)
        {
            await watched.GoAsync(path);
            Assert.Equal("", await Smaller(24));
        }
        await watched.Page.Locator("[data-set-deck]").ClickAsync();
        foreach (string path in pages)
        {
            await watched.GoAsync(path);
            Assert.Equal("", await Smaller(48));
        }

        Task<string> Smaller(int least) => watched.Page.EvaluateAsync<string>(
            """least => [...document.querySelectorAll('button, select, summary, input:not([type=checkbox]), nav a')].filter(b => b.offsetParent && b.getBoundingClientRect().height < least - 0.5).map(b => `${b.outerHTML.slice(0, 80)} ${b.getBoundingClientRect().height}`).join('\n')""", least);
    }

    [Fact]
    public async Task On_a_narrow_screen_nothing_is_lost_sideways()
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage watched = await browser.OpenAsync(small.Address, width: 320, height: 700);
        foreach (string path in new[] { $"/?t={id}", $"/?t={id}&low=volume&as=both", "/?low=echoes", "/lines", "/take", "/second", "/public", "/sheets", $"/sheet/{id}" })
        {
            await watched.GoAsync(path);
            Assert.Equal(320, await watched.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
            foreach (ILocator list in await watched.Page.Locator(".layers summary").AllAsync())
            {
                await list.ClickAsync();
                Assert.True((await list.Locator("xpath=../*[2]").BoundingBoxAsync()) is { X: >= 0 } box && box.X + box.Width <= 320);
                await list.ClickAsync();
            }
        }
    }
}
