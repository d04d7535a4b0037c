using Undersand.Runs;
using Undersand.Workbench.Network;

namespace Undersand.Workbench;

/// <summary>How a workbench is opened.</summary>
/// <param name="Place">A results folder, or a survey's, as the user named it; null for what lies about, else the demo is offered.</param>
/// <param name="Port">The port on 127.0.0.1; 0 takes a free one.</param>
public sealed record WorkbenchOptions(string? Place, int Port = 0)
{
    /// <summary>Where a survey's results go; null for beside it.</summary>
    public string? Out { get; init; }

    /// <summary>Whether the survey's folder is watched for recordings from the start.</summary>
    public bool Watch { get; init; }

    /// <summary>What does the work of runs.</summary>
    public ISurveyRunner Runner { get; init; } = new SurveyRunner();

    /// <summary>How it answers on the boat's network; null where it answers on this machine only.</summary>
    public NetworkOptions? Network { get; init; }

    /// <summary>Base maps laid under the survey, lowest first: GeoTIFF or GeoPackage, as the user named them.</summary>
    public IReadOnlyList<string> Bases { get; init; } = [];
}
