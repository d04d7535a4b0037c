using Microsoft.AspNetCore.Builder;

namespace Undersand.Workbench;

/// <summary>A workbench that answers on this machine until it is disposed of.</summary>
public sealed class RunningWorkbench : IAsyncDisposable
{
    private readonly WebApplication _app;

    internal RunningWorkbench(WebApplication app, Uri address) => (_app, Address) = (app, address);

    /// <summary>Where it answers: <c>http://127.0.0.1:port/</c>.</summary>
    public Uri Address { get; }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(2));
        await _app.StopAsync(soon.Token);
        await _app.DisposeAsync();
    }
}
