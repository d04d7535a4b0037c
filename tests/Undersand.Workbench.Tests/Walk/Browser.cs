using Microsoft.Playwright;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>Debian's Chromium; where it or the client is missing, tests are skipped and say what to install, and with CI=true they fail.</summary>
public sealed class Browser : IAsyncLifetime
{
    private const string Chromium = "/usr/bin/chromium";
    private static readonly string[] s_quiet = ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        if (!File.Exists(Chromium))
            return;
        // Pictures are drawn in software here, beside whatever else the machine does.
        Assertions.SetDefaultExpectTimeout(20_000);
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new() { ExecutablePath = Chromium, Args = s_quiet });
    }

    /// <summary>A profile that knows no more than the theme and who sits there (empty for nobody), and a page of it that keeps note of everything that went wrong.</summary>
    internal async Task<WatchedPage> OpenAsync(Uri address, string theme = "light", int width = 1440, int height = 900, string who = "Ada")
    {
        if (_browser is null)
            Missing("Chromium is missing: apt-get install chromium");
        if (!WorkbenchServer.HasClient)
            Missing("the client was not bundled: apt-get install nodejs npm (Node 20.19 or later), then build again");
        IBrowserContext context = await _browser!.NewContextAsync(new() { ViewportSize = new() { Width = width, Height = height } });
        await context.AddCookiesAsync([new Cookie { Name = "theme", Value = theme, Url = address.ToString() }, new Cookie { Name = "who", Value = who, Url = address.ToString() }]);
        return new WatchedPage(await context.NewPageAsync(), address);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        _playwright?.Dispose();
    }

    private static void Missing(string message)
    {
        if (Environment.GetEnvironmentVariable("CI") == "true")
            Assert.Fail(message);
        Assert.Skip(message);
    }
}
