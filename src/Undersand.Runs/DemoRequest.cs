namespace Undersand.Runs;

/// <summary>What <c>demo</c> was asked for.</summary>
/// <param name="Folder">Where the survey and its results go, as the user named it.</param>
/// <param name="Threads">Threads; null for all processors.</param>
public sealed record DemoRequest(string Folder, int? Threads = null);
