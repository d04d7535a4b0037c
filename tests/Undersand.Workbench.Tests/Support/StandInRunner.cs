using Undersand.Runs;

namespace Undersand.Workbench.Tests.Support;

/// <summary>Stands in for the work of runs where only their handling is tested: waits until it is let go on or stopped.</summary>
internal sealed class StandInRunner : ISurveyRunner, IDisposable
{
    private readonly SemaphoreSlim _go = new(0);

    /// <summary>What was asked for.</summary>
    public List<ProcessRequest> Asked { get; } = [];

    /// <summary>What becomes of a request, once let go on; null for the real work.</summary>
    public Func<ProcessRequest, RunOutcome>? Does { get; init; }

    /// <summary>One run may go on.</summary>
    public void LetGo() => _go.Release();

    public void Dispose() => _go.Dispose();

    public RunOutcome Process(ProcessRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        Asked.Add(request);
        progress.Begin("Summing the echoes", 10, "tiles");
        progress.Advance(4);
        _go.Wait(cancellation);
        return Does is { } does ? does(request) : new SurveyRunner().Process(request, progress, cancellation);
    }

    public RunOutcome Demo(DemoRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();

    public RunOutcome Simulate(SimulateRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();

    public RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();

    public RunOutcome Report(ReportRequest request, IProgressSink progress, CancellationToken cancellation) => throw new NotSupportedException();
}
