using System.Diagnostics;
using NodaTime;

namespace Undersand.Runs;

/// <summary>Writes down each step of a run once it has succeeded, with its time. The one place in a run that looks at a clock.</summary>
/// <remarks>Used by the thread that leads the run only.</remarks>
public sealed class RunJournal
{
    private readonly Instant _started = SystemClock.Instance.GetCurrentInstant();
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly List<ProcessingStep> _steps = [];
    private readonly List<StepTime> _times = [];

    /// <summary>The steps that succeeded, in order.</summary>
    public IReadOnlyList<ProcessingStep> Steps => _steps;

    /// <summary>Does a step and writes it down if it succeeds.</summary>
    /// <typeparam name="T">What the step gives.</typeparam>
    /// <param name="name">What is done.</param>
    /// <param name="settings">With which settings; nothing in it may depend on threads or time.</param>
    /// <param name="work">The step.</param>
    public T Step<T>(string name, IReadOnlyDictionary<string, string> settings, Func<T> work)
    {
        double begun = _clock.Elapsed.TotalSeconds;
        T result = work();
        _steps.Add(new ProcessingStep(name, settings));
        _times.Add(new StepTime(name, _clock.Elapsed.TotalSeconds - begun));
        return result;
    }

    /// <summary>What differs from run to run, as of now.</summary>
    /// <param name="threads">Threads used.</param>
    /// <param name="tilesTakenOver">Tiles found whole from an earlier run.</param>
    public RunTimings Timings(int threads, int tilesTakenOver = 0) => new(_started, _clock.Elapsed.TotalSeconds, threads, [.. _times], tilesTakenOver);
}
