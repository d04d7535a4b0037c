using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Components;

/// <summary>The list of targets of a page: the page's script and keyboard speak to it, and it hears whenever something is judged.</summary>
public abstract class SpokenTo : ComponentBase, IAsyncDisposable
{
    private DotNetObjectReference<SpokenTo>? _self;

    [Inject]
    private protected JudgementDesk Judging { get; set; } = null!;

    [Inject]
    private protected IJSRuntime Script { get; set; } = null!;

    /// <summary>What script and keyboard ask for.</summary>
    /// <param name="kind">What.</param>
    /// <param name="value">Of which, or how.</param>
    [JSInvokable]
    public async Task Tell(string kind, string? value)
    {
        await HearAsync(kind, value);
        StateHasChanged();
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        Judging.Changed -= OnChanged;
        _self?.Dispose();
        try
        {
            if (_self is not null)
                await Script.InvokeVoidAsync("undersand.detach");
        }
        catch (JSDisconnectedException)
        {
            // The page is gone, and its reference with it.
        }
    }

    /// <inheritdoc/>
    protected override void OnInitialized() => Judging.Changed += OnChanged;

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!firstRender)
            return;
        _self = DotNetObjectReference.Create(this);
        await Script.InvokeVoidAsync("undersand.attach", _self);
    }

    /// <summary>Does what is asked for.</summary>
    protected abstract Task HearAsync(string kind, string? value);

    /// <summary>Something was judged, here or elsewhere.</summary>
    protected abstract Task ChangedAsync();

    private void OnChanged() => _ = InvokeAsync(ChangedAsync);
}
