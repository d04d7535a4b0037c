using System.Runtime.ExceptionServices;

namespace Undersand.Runs;

/// <summary>How many threads a run may use, and how work is spread over them. Never changes a result.</summary>
public sealed class Parallelism
{
    /// <param name="threads">Threads to use, at least 1; null for as many as the machine has processors.</param>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than one thread.</exception>
    public Parallelism(int? threads = null)
    {
        if (threads is { } asked)
            ArgumentOutOfRangeException.ThrowIfLessThan(asked, 1, nameof(threads));
        Threads = threads ?? Environment.ProcessorCount;
    }

    /// <summary>Threads used.</summary>
    public int Threads { get; }

    /// <summary>Does the same for each index from 0, in any order.</summary>
    /// <param name="count">How many.</param>
    /// <param name="body">What to do; writes only what belongs to its own index.</param>
    /// <param name="cancellation">Stops before the next index.</param>
    /// <remarks>Where several fail, the failure of the lowest index that ran is thrown as it was, not wrapped, whatever the number of threads.</remarks>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public void For(int count, Action<int> body, CancellationToken cancellation)
    {
        int next = -1, failedAt = int.MaxValue;
        ExceptionDispatchInfo? failure = null;
        object gate = new();

        void Work()
        {
            while (!cancellation.IsCancellationRequested)
            {
                int index = Interlocked.Increment(ref next);
                if (index >= count || index > Volatile.Read(ref failedAt))
                    return;
                try
                {
                    body(index);
                }
                catch (Exception e) when (e is not OperationCanceledException || !cancellation.IsCancellationRequested)
                {
                    lock (gate)
                    {
                        if (index < failedAt)
                            (failedAt, failure) = (index, ExceptionDispatchInfo.Capture(e));
                    }
                    return;
                }
                catch (OperationCanceledException)
                {
                    return;
                }
            }
        }

        RunOnThreads(Math.Min(Threads, count), Work);
        failure?.Throw();
        cancellation.ThrowIfCancellationRequested();
    }

    // Threads of our own: the pool would start them one by one, and the caller would wait for it.
    private static void RunOnThreads(int threads, Action work)
    {
        var others = new Thread[Math.Max(threads - 1, 0)];
        for (int i = 0; i < others.Length; i++)
        {
            others[i] = new Thread(() => work()) { IsBackground = true, Name = $"undersand {i + 2}" };
            others[i].Start();
        }
        work();
        foreach (Thread thread in others)
            thread.Join();
    }
}
