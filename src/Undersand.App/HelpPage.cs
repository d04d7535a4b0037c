using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace Undersand.App;

/// <summary>The help of a command: the library's page, then the example.</summary>
internal sealed class HelpPage : SynchronousCommandLineAction
{
    private const int Width = 100;

    // A command that prints help ignores what else was wrong.
    public override bool ClearsParseErrors => true;

    public override int Invoke(ParseResult parseResult)
    {
        new HelpAction { MaxWidth = Width }.Invoke(parseResult);
        TextWriter output = parseResult.InvocationConfiguration.Output;
        if (parseResult.CommandResult.Command is CommandWithExample { Example: var example })
        {
            output.WriteLine("Example:");
            foreach (string line in example.Split('\n'))
                output.WriteLine("  " + line);
            output.WriteLine();
        }
        output.WriteLine("Exit codes:");
        output.WriteLine("  0    done");
        output.WriteLine("  1    our own fault");
        output.WriteLine("  2    the command line, the survey or the place for the results can't be used");
        output.WriteLine("  130  stopped; the same command may be given again");
        return ExitCode.Done;
    }
}
