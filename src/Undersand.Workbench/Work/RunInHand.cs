using System.Diagnostics;
using NodaTime;
using Undersand.Runs;

namespace Undersand.Workbench.Work;

/// <summary>How a run stands.</summary>
internal enum RunStage
{
    Running,
    Stopping,
    Done,
    Stopped,
    Refused,
}

/// <summary>One run of this program, from its start to what became of it: hears its progress for whoever looks on.</summary>
internal sealed class RunInHand(string what) : IProgressSink
{
    private readonly Lock _gate = new();
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly List<string> _over = [];
    private RunProgress? _step;

    /// <summary>What is made, as a person would say it.</summary>
    public string What { get; } = what;

    public Instant Started { get; } = SystemClock.Instance.GetCurrentInstant();

    public RunStage Stage { get; private set; }

    public bool IsOver => Stage > RunStage.Stopping;

    /// <summary>What came out, or the sentence why nothing did.</summary>
    public string Outcome { get; private set; } = "";

    /// <summary>Seconds from its start, to its end where it is over.</summary>
    public double Seconds => _clock.Elapsed.TotalSeconds;

    /// <summary>The step in hand: its words, and how far it is, 0 to 1, where that is known.</summary>
    public (string Words, double? Part)? Step
    {
        get
        {
            lock (_gate)
                return _step is null ? null : (ProgressWords.UnderWay(_step), _step.Fraction);
        }
    }

    /// <summary>The steps that are over, in words, and what else was said.</summary>
    public IReadOnlyList<string> Over
    {
        get
        {
            lock (_gate)
                return [.. _over];
        }
    }

    public void Begin(string step, double total, string unit)
    {
        lock (_gate)
        {
            EndStep();
            _step = new RunProgress(step, total, unit, Seconds);
        }
    }

    public void Advance(double amount = 1)
    {
        lock (_gate)
            _step?.Advance(amount, Seconds);
    }

    public void TakeOver(double amount = 1)
    {
        lock (_gate)
            _step?.TakeOver(amount, Seconds);
    }

    public void Message(string text)
    {
        lock (_gate)
            _over.Add(text);
    }

    public void Stop()
    {
        lock (_gate)
            if (!IsOver)
                Stage = RunStage.Stopping;
    }

    public void End(RunStage stage, string outcome)
    {
        lock (_gate)
        {
            if (stage == RunStage.Done)
                EndStep();
            _clock.Stop();
            (_step, Stage, Outcome) = (null, stage, outcome);
        }
    }

    private void EndStep()
    {
        if (_step is not null)
            _over.Add(ProgressWords.Over(_step, Seconds));
    }
}
