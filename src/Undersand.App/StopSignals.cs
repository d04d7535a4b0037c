using System.Runtime.InteropServices;

namespace Undersand.App;

/// <summary>Turns Ctrl-C, a closed terminal and being told to end into a cancelled token. The second time stops at once.</summary>
internal sealed class StopSignals : IDisposable
{
    private readonly CancellationTokenSource _source = new();
    private readonly List<PosixSignalRegistration> _registrations = [];
    private readonly Action _stopping;
    private int _count;

    public StopSignals(Action stopping)
    {
        _stopping = stopping;
        foreach (PosixSignal signal in (PosixSignal[])[PosixSignal.SIGINT, PosixSignal.SIGTERM, PosixSignal.SIGHUP])
            _registrations.Add(PosixSignalRegistration.Create(signal, OnSignal));
    }

    public CancellationToken Token => _source.Token;

    public void Dispose()
    {
        foreach (PosixSignalRegistration registration in _registrations)
            registration.Dispose();
        _source.Dispose();
    }

    private void OnSignal(PosixSignalContext context)
    {
        context.Cancel = true;
        if (Interlocked.Increment(ref _count) > 1)
            Environment.Exit(ExitCode.Stopped);
        _source.Cancel();
        _stopping();
    }
}
