using System.Buffers.Binary;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>The volume as people look at it; Chromium draws it in software here.</summary>
public sealed class VolumeTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task By_keyboard_from_slices_to_a_surface_to_a_picture_whose_recipe_makes_it_again()
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        IPage page = watched.Page;
        await watched.GoAsync($"/?t={id}&w=probability");
        Assert.False(await page.EvaluateAsync<bool>("performance.getEntriesByType('resource').some(r => r.name.includes('/client/volume-'))"));
        await watched.PressAsync("v");
        await DrawnAsync(page);
        await Assertions.Expect(page.Locator("#volume-readout")).ToContainTextAsync("heights true · seabed drawn flat");
        await Assertions.Expect(page.Locator("#volume-readout")).ToContainTextAsync("not calibrated yet");
        await Assertions.Expect(page.Locator("#volume-legend")).ToContainTextAsync("Probability");

        // What is loaded later must not start the page a second time.
        Assert.Equal(1, await page.EvaluateAsync<int>("performance.getEntriesByType('resource').filter(r => r.name.includes('/client/workbench.js')).length"));

        // Slices move by keys and stay in the link.
        string before = await page.Locator("#volume-e-words").InnerTextAsync();
        await page.Locator("#volume").FocusAsync();
        await page.Keyboard.PressAsync("Shift+ArrowRight");
        await Assertions.Expect(page.Locator("#volume-e-words")).Not.ToHaveTextAsync(before);
        string level = await page.Locator("#volume-z-words").InnerTextAsync();
        await page.Keyboard.PressAsync("PageDown");
        await Assertions.Expect(page.Locator("#volume-z-words")).Not.ToHaveTextAsync(level);
        await page.Keyboard.PressAsync("ArrowUp");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("low=volume&tilt=35&e=5"));

        // Greatest, then a surface whose value is chosen.
        await page.Keyboard.PressAsync("g");
        await Assertions.Expect(page.Locator("#volume-as")).ToHaveValueAsync("greatest");
        byte[] greatest = await LookAsync(page);
        await page.Locator("#volume").FocusAsync();
        await page.Keyboard.PressAsync("g");
        await page.Locator("#volume-iso").FocusAsync();
        await page.Keyboard.PressAsync("ArrowLeft");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("as=surface&iso=0.49"));
        byte[] surface = await LookAsync(page);
        Assert.NotEqual(greatest, surface);

        IDownload download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Button, new() { Name = "Save picture" }).ClickAsync());
        string recipe = Recipe(await File.ReadAllBytesAsync(await download.PathAsync(), TestContext.Current.CancellationToken));
        Assert.Contains("Survey: ", recipe);
        Assert.Contains($"newest ping: {OpenedResults.Open(small.Folder).NewestPing}", recipe);
        Assert.Contains("colours from 0 to 1", recipe);
        Assert.Contains("probability not calibrated", recipe);
        Assert.Contains("surface at 0.49", recipe);
        Assert.Contains("tilted 35°", recipe);
        string link = Regex.Match(recipe, "(?m)^Link: (.*)$").Groups[1].Value;

        await using WatchedPage colleague = await browser.OpenAsync(small.Address);
        await colleague.GoAsync(link);
        Assert.Equal(surface, await LookAsync(colleague.Page));
        watched.AssertQuiet();
        colleague.AssertQuiet();
    }

    [Fact]
    public async Task The_cursor_over_the_volume_is_the_cursor_of_map_and_section()
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage watched = await browser.OpenAsync(small.Address);
        await watched.GoAsync($"/?t={id}&low=volume");
        await DrawnAsync(watched.Page);
        byte[] map = await watched.Page.Locator("#map").ScreenshotAsync();
        await watched.Page.Locator("#volume").HoverAsync();
        await Assertions.Expect(watched.Page.Locator("#volume-readout")).ToContainTextAsync(new Regex(@"^E 5000\d\d\.\d\d  N 57\d+\.\d\d  burial \d\.\d\d m: Echo strength, dB −?\d"));
        Assert.NotEqual(map, await watched.Page.Locator("#map").ScreenshotAsync());
    }

    [Fact]
    public async Task Without_graphics_or_when_they_are_lost_slices_remain_and_a_sentence_says_so()
    {
        string id = OpenedResults.Open(small.Folder).Targets[0].Id;
        await using WatchedPage without = await browser.OpenAsync(small.Address);
        await without.Page.AddInitScriptAsync("const real = HTMLCanvasElement.prototype.getContext; HTMLCanvasElement.prototype.getContext = function (kind, ...more) { return kind === 'webgl2' ? null : real.call(this, kind, ...more); };");
        await without.GoAsync($"/?t={id}&low=volume");
        await DrawnAsync(without.Page);
        await Assertions.Expect(without.Page.Locator("#volume-flat")).ToContainTextAsync("no working WebGL 2");
        byte[] before = await LookAsync(without.Page);
        await without.Page.Locator("#volume").FocusAsync();
        for (int i = 0; i < 4; i++)
            await without.Page.Keyboard.PressAsync("PageDown");
        Assert.NotEqual(before, await LookAsync(without.Page));
        without.AssertQuiet();

        await using WatchedPage lost = await browser.OpenAsync(small.Address);
        await lost.GoAsync($"/?t={id}&low=volume");
        await DrawnAsync(lost.Page);
        await Assertions.Expect(lost.Page.Locator("#volume-flat")).ToBeEmptyAsync();
        await lost.Page.EvaluateAsync("() => { window.card = document.querySelector('#volume canvas').getContext('webgl2').getExtension('WEBGL_lose_context'); window.card.loseContext(); }");
        await Assertions.Expect(lost.Page.Locator("#volume-flat")).ToContainTextAsync("no working WebGL 2");
        await lost.Page.EvaluateAsync("() => window.card.restoreContext()");
        await Assertions.Expect(lost.Page.Locator("#volume-flat")).ToBeEmptyAsync();
    }

    private static Task DrawnAsync(IPage page) => Assertions.Expect(page.Locator("#volume")).ToHaveAttributeAsync("data-drawn", "fine", new() { Timeout = 60_000 });

    // What is seen once it is sharp and nothing has the focus.
    private static async Task<byte[]> LookAsync(IPage page)
    {
        await DrawnAsync(page);
        await page.EvaluateAsync("document.activeElement?.blur()");
        await page.Mouse.MoveAsync(2, 2);
        await page.WaitForTimeoutAsync(400);
        await DrawnAsync(page);
        return await page.Locator("#volume").ScreenshotAsync();
    }

    // The text of the picture's iTXt chunk, whose checksum must hold.
    private static string Recipe(byte[] png)
    {
        for (int at = 8; at < png.Length;)
        {
            int length = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at));
            ReadOnlySpan<byte> chunk = png.AsSpan(at + 4, 4 + length);
            if (chunk.StartsWith("iTXtRecipe\0\0\0\0\0"u8))
            {
                Assert.Equal(Checksum(chunk), BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan(at + 8 + length)));
                return Encoding.UTF8.GetString(chunk["iTXtRecipe\0\0\0\0\0".Length..]);
            }
            at += 12 + length;
        }
        return "";
    }

    private static uint Checksum(ReadOnlySpan<byte> bytes)
    {
        uint crc = uint.MaxValue;
        foreach (byte b in bytes)
        {
            crc ^= b;
            for (int k = 0; k < 8; k++)
                crc = (crc & 1) != 0 ? (crc >> 1) ^ 0xedb88320 : crc >> 1;
        }
        return ~crc;
    }
}
