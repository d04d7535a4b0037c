using Undersand.Simulation;

namespace Undersand.Runs.Processing;

/// <summary>Makes the demo survey, processes it on exactly the path that a user's survey takes, and sets the result beside the truth.</summary>
internal static class DemoRun
{
    public static RunOutcome Run(DemoRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        string survey = Path.Combine(request.Folder, "survey"), results = Path.Combine(request.Folder, "results"), truthFile = Path.Combine(request.Folder, "truth.json");
        var simulated = SimulateRun.Simulate(DemoScene.Scene, DemoScene.Plan, DemoScene.Seed, request.Threads, progress, cancellation);
        SimulatedFolder.Write(survey, truthFile, simulated);
        var outcome = ProcessRun.Run(new ProcessRequest(survey, results) { Threads = request.Threads }, new RunMemory(), progress, cancellation, out var result);
        return outcome with { Lines = [.. outcome.Lines, "", .. TruthTable.Lines(simulated.Truth, result)], Files = [.. outcome.Files, new FileToOpen(truthFile, "what is really there, kept apart from the survey")] };
    }
}
