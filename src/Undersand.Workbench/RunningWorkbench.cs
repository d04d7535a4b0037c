using Microsoft.AspNetCore.Builder;
using Undersand.Workbench.Network;

namespace Undersand.Workbench;

/// <summary>A workbench that answers on this machine until it is disposed of.</summary>
public sealed class RunningWorkbench : IAsyncDisposable
{
    private readonly WebApplication _app;

    internal RunningWorkbench(WebApplication app, Uri address, string what, BoatNetwork? network, IReadOnlyList<string> refused) => (_app, Address, What, Network, Refused) = (app, address, what, network, refused);

    /// <summary>Where it answers: <c>http://127.0.0.1:port/</c>.</summary>
    public Uri Address { get; }

    /// <summary>What it shows: the results' folder, or that there are none yet.</summary>
    public string What { get; }

    /// <summary>How it answers on the boat's network; null where it doesn't.</summary>
    public BoatNetwork? Network { get; }

    /// <summary>Why base maps that were named aren't shown, a sentence each.</summary>
    public IReadOnlyList<string> Refused { get; }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(2));
        await _app.StopAsync(soon.Token);
        await _app.DisposeAsync();
        Network?.Dispose();
    }
}
