using NodaTime;
using Undersand.Runs;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Work;

/// <summary>Starts and stops runs, one at a time, in the background: they go on whoever closes his page.</summary>
/// <remarks>
/// A run works in a folder of its own beside the results (<c>results.next</c>), so that what is shown stays whole; when it has finished, the two change places.
/// The older results stay there: their tiles are taken over where nothing about them has changed, as are those of a run that was stopped.
/// </remarks>
internal sealed class RunDesk(ResultsShelf shelf, ISurveyRunner runner) : IDisposable
{
    private static readonly TimeSpan s_patience = TimeSpan.FromSeconds(10);
    private readonly Lock _gate = new();
    private readonly List<RunInHand> _past = [];
    private readonly CancellationTokenSource _closing = new();
    private CancellationTokenSource? _stop;
    private Task _work = Task.CompletedTask;

    /// <summary>The run in hand, or the last one; null before the first.</summary>
    public RunInHand? Last { get; private set; }

    /// <summary>When a run began that an earlier program did not bring to its end; null where there is none that could be taken up, and once another has begun.</summary>
    public Instant? LeftOff { get; private set; } = shelf.Place.Survey is null ? null : ResultsTurn.LeftOff(shelf.Place.Results);

    public bool IsBusy => Last is { IsOver: false };

    /// <summary>Runs that are over, the newest first.</summary>
    public IReadOnlyList<RunInHand> Past
    {
        get
        {
            lock (_gate)
                return [.. _past.Where(r => r.IsOver).Reverse()];
        }
    }

    /// <summary>Processes the survey, taking up what an earlier run left.</summary>
    /// <param name="what">What for, as a person would say it.</param>
    /// <param name="recordings">The file names of the recordings; null for all.</param>
    /// <param name="linesStillCome">Whether further ones are soon to come.</param>
    /// <returns>The run; null where one is at work already, or no survey is known.</returns>
    public RunInHand? Process(string what, IReadOnlyCollection<string>? recordings = null, bool linesStillCome = false) => shelf.Place.Survey is not { } survey ? null : Start(what, (progress, stop) =>
    {
        using var turn = new ResultsTurn(shelf.Place.Results, survey);
        turn.Prepare(progress, stop);
        RunOutcome outcome = runner.Process(new ProcessRequest(survey, turn.Next) { Recordings = recordings, LinesStillCome = linesStillCome }, progress, stop);
        turn.Change();
        return outcome;
    });

    /// <summary>Makes the demo survey and processes it.</summary>
    /// <returns>The run; null where one is at work already, or something else is open.</returns>
    public RunInHand? Demo() => shelf.Place.Demo is not { } demo ? null : Start("The demo: a survey of a scene of our own", (progress, stop) => runner.Demo(new DemoRequest(demo), progress, stop));

    /// <summary>Stops the run in hand after what it has in hand; what is done is kept.</summary>
    public void Stop()
    {
        lock (_gate)
        {
            Last?.Stop();
            _stop?.Cancel();
        }
    }

    /// <summary>When the run in hand is over.</summary>
    public Task WhenOver()
    {
        lock (_gate)
            return _work;
    }

    public void Dispose()
    {
        Stop();
        _closing.Cancel();
        WhenOver().Wait(s_patience);
        _closing.Dispose();
    }

    private RunInHand? Start(string what, Func<IProgressSink, CancellationToken, RunOutcome> work)
    {
        lock (_gate)
        {
            if (IsBusy || _closing.IsCancellationRequested)
                return null;
            var run = new RunInHand(what);
            var stop = new CancellationTokenSource();
            (Last, LeftOff, _stop) = (run, null, stop);
            _past.Add(run);
            _work = Task.Factory.StartNew(() => Do(run, work, stop.Token), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
            return run;
        }
    }

    private void Do(RunInHand run, Func<IProgressSink, CancellationToken, RunOutcome> work, CancellationToken stop)
    {
        try
        {
            RunOutcome outcome = work(run, stop);
            shelf.Renew();
            run.End(RunStage.Done, outcome.Lines.Count > 0 ? outcome.Lines[0] : "Done.");
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            run.End(RunStage.Stopped, "Stopped; what is done so far is kept, and the next run takes it up.");
        }
#pragma warning disable CA1031 // A run must never end the program that shows the results: every fault ends as its sentence.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            run.End(RunStage.Refused, DiskFaults.Explain(fault, shelf.Place.Results)?.Message ?? $"This is a fault of Undersand's own ({fault.GetType().Name}: {fault.Message}).");
        }
    }
}
