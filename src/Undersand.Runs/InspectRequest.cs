namespace Undersand.Runs;

/// <summary>What <c>inspect</c> was asked for.</summary>
/// <param name="File">The recording, as the user named it.</param>
public sealed record InspectRequest(string File);
