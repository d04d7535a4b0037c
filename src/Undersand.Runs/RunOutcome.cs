namespace Undersand.Runs;

/// <summary>What a command ends with on the screen.</summary>
/// <param name="Lines">What came out, line by line, in plain text.</param>
/// <param name="Files">What to open now, the most useful first.</param>
public sealed record RunOutcome(IReadOnlyList<string> Lines, IReadOnlyList<FileToOpen> Files);

/// <summary>A file or folder worth opening.</summary>
/// <param name="Path">As the user would type it.</param>
/// <param name="What">What is in it, in a few words.</param>
public sealed record FileToOpen(string Path, string What);
