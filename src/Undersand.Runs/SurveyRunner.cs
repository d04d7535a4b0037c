namespace Undersand.Runs;

/// <summary>The program's work behind its commands.</summary>
public sealed class SurveyRunner : ISurveyRunner
{
    /// <inheritdoc/>
    public RunOutcome Process(ProcessRequest request, IProgressSink progress, CancellationToken cancellation) => throw NotJoined(nameof(Process));

    /// <inheritdoc/>
    public RunOutcome Demo(DemoRequest request, IProgressSink progress, CancellationToken cancellation) => throw NotJoined(nameof(Demo));

    /// <inheritdoc/>
    public RunOutcome Simulate(SimulateRequest request, IProgressSink progress, CancellationToken cancellation) => throw NotJoined(nameof(Simulate));

    /// <inheritdoc/>
    public RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation) => Inspection.Inspector.Inspect(request, progress, cancellation);

    private static InvalidOperationException NotJoined(string what) => new($"the rooms behind {what} are not joined in this branch");
}
