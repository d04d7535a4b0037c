namespace Undersand.Simulation;

/// <summary>What is really there; kept apart from the survey.</summary>
/// <param name="Scene">The scene's name.</param>
/// <param name="Seed">The seed of everything random.</param>
/// <param name="Objects">All things, decoys included.</param>
public sealed record Truth(string Scene, int Seed, IReadOnlyList<TrueObject> Objects);
