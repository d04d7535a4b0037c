using Undersand.Positioning;
using Undersand.Simulation;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Processing;

/// <summary>Makes the demo survey, processes it on exactly the path that a user's survey takes, and sets the result beside the truth.</summary>
internal static class DemoRun
{
    public static RunOutcome Run(DemoRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        string survey = Path.Combine(request.Folder, "survey"), results = Path.Combine(request.Folder, "results"), truthFile = Path.Combine(request.Folder, "truth.json");
        var simulated = Simulate(request, progress, cancellation);
        SimulatedFolder.Write(survey, truthFile, simulated);
        var outcome = ProcessRun.Run(new ProcessRequest(survey, results) { Threads = request.Threads }, progress, cancellation, out var result);
        return outcome with { Lines = [.. outcome.Lines, "", .. TruthTable.Lines(simulated.Truth, result)], Files = [.. outcome.Files, new FileToOpen(truthFile, "what is really there, kept apart from the survey")] };
    }

    private static SimulatedSurvey Simulate(DemoRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        progress.Begin("Simulating the demo survey", 100, "%");
        double done = 0;
        var gate = new Lock();
        return Simulator.Run(DemoScene.Scene, DemoScene.Plan, DemoScene.Seed, new Parallelism(request.Threads).Threads, new Report(f =>
        {
            lock (gate)
            {
                progress.Advance(100 * Math.Max(0, f - done));
                done = Math.Max(done, f);
            }
        }), cancellation);
    }

    private sealed class Report(Action<double> report) : IProgress<double>
    {
        void IProgress<double>.Report(double value) => report(value);
    }
}
