namespace Undersand.Runs;

/// <summary>What <c>simulate</c> was asked for.</summary>
/// <param name="Scene">The scene's JSON file, as the user named it.</param>
/// <param name="Survey">The survey's folder to make, as the user named it.</param>
/// <param name="Truth">The file for the truth, outside the survey's folder.</param>
/// <param name="Threads">Threads; null for all processors.</param>
public sealed record SimulateRequest(string Scene, string Survey, string Truth, int? Threads = null);
