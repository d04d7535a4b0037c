namespace Undersand.Workbench.Network;

/// <summary>How a workbench answers on the boat's network.</summary>
/// <param name="Port">The port, on every address of this machine; 0 takes a free one.</param>
/// <param name="Hosts">Further names by which it may be called.</param>
/// <param name="Keep">The folder of certificate and devices; null for the user's own.</param>
public sealed record NetworkOptions(int Port, IReadOnlyList<string> Hosts, string? Keep = null);
