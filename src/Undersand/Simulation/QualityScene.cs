namespace Undersand.Simulation;

/// <summary>A scene of known truth that the quality of the whole chain is measured on.</summary>
/// <param name="Name">What the results are listed under.</param>
/// <param name="Scene">What is there.</param>
/// <param name="Plan">How it is surveyed.</param>
/// <param name="Seed">Of everything random.</param>
/// <param name="Area">Square metres within which false targets are counted.</param>
public sealed record QualityScene(string Name, Scene Scene, SurveyPlan Plan, int Seed, double Area)
{
    /// <summary>Simulates it.</summary>
    /// <param name="degreeOfParallelism">Threads.</param>
    /// <param name="cancellation">Stops between pings.</param>
    public SimulatedSurvey Run(int degreeOfParallelism = 1, CancellationToken cancellation = default) =>
        Simulator.Run(Scene, Plan, Seed, degreeOfParallelism, cancellation: cancellation);
}
