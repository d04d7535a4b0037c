using Undersand.Workbench.Network;

namespace Undersand.Workbench;

/// <summary>How a workbench is opened.</summary>
/// <param name="Results">The results folder, as the user named it.</param>
/// <param name="Port">The port on 127.0.0.1; 0 takes a free one.</param>
/// <param name="Network">How it answers on the boat's network; null where it answers on this machine only.</param>
public sealed record WorkbenchOptions(string Results, int Port = 0, NetworkOptions? Network = null);
