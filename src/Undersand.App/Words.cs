using System.CommandLine;

namespace Undersand.App;

/// <summary>How commands are named to people.</summary>
internal static class Words
{
    /// <summary>“undersand process”.</summary>
    public static string CommandPath(Command command) => command is RootCommand ? "undersand" : "undersand " + command.Name;
}
