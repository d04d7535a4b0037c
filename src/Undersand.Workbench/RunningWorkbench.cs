using Microsoft.AspNetCore.Builder;

namespace Undersand.Workbench;

/// <summary>A workbench that answers on this machine until it is disposed of.</summary>
public sealed class RunningWorkbench : IAsyncDisposable
{
    private readonly WebApplication _app;

    internal RunningWorkbench(WebApplication app, Uri address, IReadOnlyList<string> refused) => (_app, Address, Refused) = (app, address, refused);

    /// <summary>Where it answers: <c>http://127.0.0.1:port/</c>.</summary>
    public Uri Address { get; }

    /// <summary>Why base maps that were named aren't shown, a sentence each.</summary>
    public IReadOnlyList<string> Refused { get; }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(2));
        await _app.StopAsync(soon.Token);
        await _app.DisposeAsync();
    }
}
