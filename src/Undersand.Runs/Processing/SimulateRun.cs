using Undersand.Runs.Scenes;
using Undersand.Simulation;

namespace Undersand.Runs.Processing;

/// <summary>A run of <c>simulate</c>: from a scene file to a survey folder, the truth apart from it.</summary>
internal static class SimulateRun
{
    public static RunOutcome Run(SimulateRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        var (scene, plan, seed, cautions) = SceneFile.Read(request.Scene);
        if (Directory.Exists(request.Survey) && Directory.EnumerateFileSystemEntries(request.Survey).Any())
            throw new SurveyException(request.Survey, null, "the folder is not empty, and a survey that is there already is never overwritten", "choose another folder with --out");
        var simulated = Simulate(scene, plan, seed, request.Threads, progress, cancellation);
        SimulatedFolder.Write(request.Survey, request.Truth, simulated);
        return new RunOutcome(
            [$"{simulated.Lines.Count} {(simulated.Lines.Count == 1 ? "line" : "lines")}, {simulated.Lines.Sum(l => l.PingCount)} pings, {simulated.Truth.Objects.Count} things in the scene.", .. cautions.Select(c => $"Caution: {c.Where}: {c.Text}")],
            [new(request.Survey, "the survey, as a surveyor would hand it over"), new(request.Truth, "what is really there")]);
    }

    public static SimulatedSurvey Simulate(Scene scene, SurveyPlan plan, int seed, int? threads, IProgressSink progress, CancellationToken cancellation)
    {
        progress.Begin("Simulating the survey", 100, "%");
        return Simulator.Run(scene, plan, seed, new Parallelism(threads).Threads, new FractionProgress(progress), cancellation);
    }
}
