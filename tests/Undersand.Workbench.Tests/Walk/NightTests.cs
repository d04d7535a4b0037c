using Microsoft.Playwright;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>That nothing blinds at night.</summary>
public sealed class NightTests(SmallResults small, Browser browser) : IClassFixture<Browser>
{
    // The mean light of what is on the screen, as a share of the light of the words (relative luminance, WCAG 2.2).
    private const string Light = """
        async png => {
          const image = new Image();
          image.src = 'data:image/png;base64,' + png;
          await image.decode();
          const c = new OffscreenCanvas(image.width, image.height).getContext('2d');
          c.drawImage(image, 0, 0);
          const light = ([r, g, b]) => [r, g, b].map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4).reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
          const { data } = c.getImageData(0, 0, image.width, image.height);
          let sum = 0;
          for (let i = 0; i < data.length; i += 4) sum += light(data.subarray(i, i + 3));
          return 4 * sum / data.length / light(getComputedStyle(document.body).color.match(/\d+/g).map(Number));
        }
        """;

    [Theory]
    [InlineData("/?low=echoes", "#echoes", "/echoes/0/")]
    [InlineData("/", "#section", "/section/")]
    [InlineData("/report", "body", "")]
    public async Task Pictures_give_little_light(string path, string what, string picture)
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address, "night");
        IPage page = watched.Page;
        await watched.GoAsync(path);
        if (picture.Length > 0)
            await page.WaitForFunctionAsync("picture => performance.getEntriesByType('resource').some(r => r.name.includes(picture))", picture);
        await page.EvaluateAsync("() => new Promise(drawn => setTimeout(() => requestAnimationFrame(drawn), 300))");
        double light = await page.EvaluateAsync<double>(Light, Convert.ToBase64String(await page.Locator(what).ScreenshotAsync()));
        Assert.InRange(light, 0.01, 0.3);
        watched.AssertQuiet();
    }

    [Fact]
    public async Task What_was_not_surveyed_or_not_seen_is_edged_at_night_so_that_it_is_read_on_any_ground()
    {
        await using WatchedPage watched = await browser.OpenAsync(small.Address, "night");
        await watched.GoAsync("/");
        const string Asked = "way => performance.getEntriesByType('resource').some(r => r.name.includes(way))";
        await watched.Page.WaitForFunctionAsync(Asked, "/map/ground.over/");
        Assert.False(await watched.Page.EvaluateAsync<bool>(Asked, "/map/ground/"));
        await watched.Page.Locator("[data-set-theme=light]").ClickAsync();
        await watched.Page.WaitForFunctionAsync(Asked, "/map/ground/");
        watched.AssertQuiet();
    }
}
