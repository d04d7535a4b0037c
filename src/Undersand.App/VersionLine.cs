using System.CommandLine;
using System.CommandLine.Invocation;
using Undersand.Runs;

namespace Undersand.App;

/// <summary>What <c>--version</c> prints.</summary>
internal sealed class VersionLine : SynchronousCommandLineAction
{
    public override int Invoke(ParseResult parseResult)
    {
        parseResult.InvocationConfiguration.Output.WriteLine($"undersand {CodeVersion.Program} (code {CodeVersion.Code}, {CodeVersion.Runtime})");
        return ExitCode.Done;
    }
}
