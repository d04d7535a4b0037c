using System.Collections.Concurrent;

namespace Undersand.Workbench.Pictures;

/// <summary>Threads that make pictures, one a core, first come first served: many who ask at once wait in a queue and not on the threads that answer, which stay free for everything quick.</summary>
internal sealed class Painters : IDisposable
{
    private readonly BlockingCollection<Action> _waiting = [];

    public Painters()
    {
        for (int i = 0; i < Environment.ProcessorCount; i++)
            new Thread(Work) { IsBackground = true, Priority = ThreadPriority.BelowNormal, Name = "painter" }.Start();
    }

    /// <summary>Makes something when its turn comes.</summary>
    /// <param name="paint">Makes it.</param>
    /// <param name="gone">Whoever asked no longer waits: it is not made then.</param>
    public Task<T> PaintAsync<T>(Func<T> paint, CancellationToken gone)
    {
        var done = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        _waiting.Add(() =>
        {
            if (gone.IsCancellationRequested)
            {
                done.SetCanceled(gone);
                return;
            }
            try
            {
                done.SetResult(paint());
            }
#pragma warning disable CA1031 // Every fault goes to whoever asked.
            catch (Exception fault)
#pragma warning restore CA1031
            {
                done.SetException(fault);
            }
        }, CancellationToken.None);
        return done.Task;
    }

    public void Dispose() => _waiting.CompleteAdding();

    private void Work()
    {
        foreach (Action next in _waiting.GetConsumingEnumerable())
            next();
    }
}
