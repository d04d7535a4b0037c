namespace Undersand.Runs;

/// <summary>Hears nothing: for tests, benches and callers that don't show progress.</summary>
public sealed class NoProgress : IProgressSink
{
    /// <inheritdoc/>
    public void Begin(string step, double total, string unit) { }

    /// <inheritdoc/>
    public void Advance(double amount = 1) { }

    /// <inheritdoc/>
    public void TakeOver(double amount = 1) { }

    /// <inheritdoc/>
    public void Message(string text) { }
}
