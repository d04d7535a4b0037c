namespace Undersand.Runs;

/// <summary>What the program can do, behind its commands: the real one, and a stand-in in tests of the commands.</summary>
/// <remarks>
/// Each member throws <see cref="SurveyException"/> where what it was given can't be used, and <see cref="OperationCanceledException"/>
/// where it was stopped; anything else is our own fault.
/// </remarks>
public interface ISurveyRunner
{
    /// <summary>From a survey's recordings to its results.</summary>
    RunOutcome Process(ProcessRequest request, IProgressSink progress, CancellationToken cancellation);

    /// <summary>Makes a survey of a scene of our own, processes it, and sets its truth beside its result.</summary>
    RunOutcome Demo(DemoRequest request, IProgressSink progress, CancellationToken cancellation);

    /// <summary>From a scene to a survey's folder, with the truth kept apart.</summary>
    RunOutcome Simulate(SimulateRequest request, IProgressSink progress, CancellationToken cancellation);

    /// <summary>A page about a recording.</summary>
    RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation);

    /// <summary>From results and judgements to the report with both, or its public version.</summary>
    RunOutcome Report(ReportRequest request, IProgressSink progress, CancellationToken cancellation);
}
