using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Undersand.Workbench.Tests.Walk;

/// <summary>A page, the requests it made to elsewhere, and what the browser complained about.</summary>
internal sealed class WatchedPage : IAsyncDisposable
{
    private readonly List<string> _complaints = [];

    public WatchedPage(IPage page, Uri address)
    {
        (Page, Address) = (page, address);
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(address.ToString(), StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal) && !request.Url.StartsWith("blob:", StringComparison.Ordinal))
                Note("asked elsewhere: " + request.Url);
        };
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
                Note($"{message.Type}: {message.Text}");
        };
        page.Response += (_, answer) =>
        {
            if (answer.Status >= 400)
                Note($"{answer.Status} {answer.Url}");
        };
        page.PageError += (_, fault) => Note("fault: " + fault);
    }

    public IPage Page { get; }

    public Uri Address { get; }

    /// <summary>Goes to a path and waits until what it shows is there and connected.</summary>
    public async Task GoAsync(string path)
    {
        await Page.GotoAsync(new Uri(Address, path).ToString());
        if (path.StartsWith("/?", StringComparison.Ordinal) || path == "/")
            await ConnectedAsync();
    }

    public async Task ConnectedAsync()
    {
        try
        {
            await Page.WaitForSelectorAsync("#map[data-ready]");
        }
        catch (TimeoutException late)
        {
            lock (_complaints)
                throw new TimeoutException($"The map of {Page.Url} is not ready: {string.Join("; ", _complaints)}", late);
        }
        await Page.WaitForFunctionAsync("() => window.undersand.panel !== null");
    }

    /// <summary>Presses keys with the map in focus, one after the other.</summary>
    public async Task PressAsync(params string[] keys)
    {
        await Page.Locator("#map").FocusAsync();
        foreach (string key in keys)
            await Page.Keyboard.PressAsync(key);
    }

    /// <summary>axe finds nothing wrong with the page as it stands.</summary>
    /// <param name="where">Where that is, for the message.</param>
    public async Task AssertAccessibleAsync(string where = "")
    {
        AxeResult found = await Page.RunAxe();
        Assert.True(found.Violations.Length == 0, string.Join('\n', found.Violations.Select(v => $"{where} {v.Id}: {v.Help}: {string.Join(" | ", v.Nodes.Take(4).Select(n => n.Html))}")));
    }

    /// <summary>Nothing was asked of elsewhere, nothing broke, the content policy was not violated.</summary>
    public void AssertQuiet()
    {
        lock (_complaints)
            Assert.Empty(_complaints);
    }

    public async ValueTask DisposeAsync() => await Page.Context.DisposeAsync();

    private void Note(string complaint)
    {
        lock (_complaints)
            _complaints.Add(complaint);
    }
}
