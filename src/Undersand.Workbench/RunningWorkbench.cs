using Microsoft.AspNetCore.Builder;

namespace Undersand.Workbench;

/// <summary>A workbench that answers on this machine until it is disposed of.</summary>
public sealed class RunningWorkbench : IAsyncDisposable
{
    private readonly WebApplication _app;

    internal RunningWorkbench(WebApplication app, Uri address, string what) => (_app, Address, What) = (app, address, what);

    /// <summary>Where it answers: <c>http://127.0.0.1:port/</c>.</summary>
    public Uri Address { get; }

    /// <summary>What it shows: the results' folder, or that there are none yet.</summary>
    public string What { get; }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(2));
        await _app.StopAsync(soon.Token);
        await _app.DisposeAsync();
    }
}
