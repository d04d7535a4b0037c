namespace Undersand.Workbench;

/// <summary>How a workbench is opened.</summary>
/// <param name="Results">The results folder, as the user named it.</param>
/// <param name="Port">The port on 127.0.0.1; 0 takes a free one.</param>
public sealed record WorkbenchOptions(string Results, int Port = 0)
{
    /// <summary>Base maps laid under the survey, lowest first: GeoTIFF or GeoPackage, as the user named them.</summary>
    public IReadOnlyList<string> Bases { get; init; } = [];
}
