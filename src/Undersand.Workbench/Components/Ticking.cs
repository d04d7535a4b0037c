using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Undersand.Workbench.Components;

/// <summary>A component that looks twice a second what has changed, as long as its page is open.</summary>
public abstract class Ticking : ComponentBase, IDisposable
{
    private readonly CancellationTokenSource _gone = new();

    /// <inheritdoc/>
    public void Dispose()
    {
        _gone.Cancel();
        _gone.Dispose();
        GC.SuppressFinalize(this);
    }

    /// <inheritdoc/>
    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender)
            _ = TickAsync();
    }

    /// <summary>What is done at each look; unless said otherwise, everything is drawn anew.</summary>
    protected virtual Task LookAsync(CancellationToken gone) => InvokeAsync(StateHasChanged);

    private async Task TickAsync()
    {
        using var clock = new PeriodicTimer(TimeSpan.FromSeconds(0.5));
        CancellationToken gone = _gone.Token;
        try
        {
            do
                await LookAsync(gone);
            while (await clock.WaitForNextTickAsync(gone));
        }
        catch (Exception over) when (over is OperationCanceledException or JSDisconnectedException or ObjectDisposedException)
        {
            return;
        }
    }
}
