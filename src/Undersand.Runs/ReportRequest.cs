namespace Undersand.Runs;

/// <summary>What <c>report</c> was asked for.</summary>
/// <param name="Results">The results' folder, as the user named it.</param>
/// <param name="IsPublic">Whether positions are withheld.</param>
/// <param name="Folder">Where the report goes; null: beside the results.</param>
public sealed record ReportRequest(string Results, bool IsPublic, string? Folder);
