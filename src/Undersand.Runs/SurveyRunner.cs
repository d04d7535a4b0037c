using Undersand.Runs.Processing;
using Undersand.Storage.Surveys;

namespace Undersand.Runs;

/// <summary>The program's work behind its commands.</summary>
public sealed class SurveyRunner : ISurveyRunner
{
    /// <inheritdoc/>
    public RunOutcome Process(ProcessRequest request, IProgressSink progress, CancellationToken cancellation) => ProcessRun.Run(request, progress, cancellation, out _);

    /// <inheritdoc/>
    public RunOutcome Demo(DemoRequest request, IProgressSink progress, CancellationToken cancellation) => DemoRun.Run(request, progress, cancellation);

    /// <inheritdoc/>
    public RunOutcome Simulate(SimulateRequest request, IProgressSink progress, CancellationToken cancellation) => SimulateRun.Run(request, progress, cancellation);

    /// <inheritdoc/>
    public RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation) => new(SegyInspection.Of(request.File).ToLines(), []);
}
