using System.CommandLine;
using System.CommandLine.Help;
using Undersand.App.Commands;

namespace Undersand.App;

/// <summary>The commands, and the way from arguments to an exit code.</summary>
public static class CommandLine
{
    /// <summary>The tree of commands: a command's file says what it takes.</summary>
    public static RootCommand Tree(Session session)
    {
        var root = new RootCommand("From recordings of a low-frequency sonar over the seabed to a list of what lies buried in it.\nStart with: undersand demo")
        {
            ProcessCommand.Create(session),
            DemoCommand.Create(session),
            OpenCommand.Create(session),
            ReportCommand.Create(session),
            SimulateCommand.Create(session),
            InspectCommand.Create(session),
            session.Debug,
        };
        root.HelpName = "undersand";
        root.Options.OfType<VersionOption>().Single().Action = new VersionLine();
        root.Options.OfType<HelpOption>().Single().Action = new HelpPage();
        root.SetAction(parsed => new HelpPage().Invoke(parsed));
        return root;
    }

    /// <summary>Does what the arguments ask for.</summary>
    /// <returns>One of <see cref="ExitCode"/>.</returns>
    public static async Task<int> RunAsync(string[] args, Session session)
    {
        ParseResult parsed = Tree(session).Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (parsed.Errors.Count > 0 && !AsksForHelp(parsed))
        {
            session.Refuse(Sentence(parsed));
            return ExitCode.Unusable;
        }
        var configuration = new InvocationConfiguration
        {
            Output = session.Output,
            Error = session.Errors,
            EnableDefaultExceptionHandler = false,
            ProcessTerminationTimeout = null,
        };
        return await parsed.InvokeAsync(configuration);
    }

    private static bool AsksForHelp(ParseResult parsed) => parsed.Action is HelpPage or VersionLine;

    private static string Sentence(ParseResult parsed)
    {
        string name = Words.CommandPath(parsed.CommandResult.Command);
        IEnumerable<string> wrong = parsed.Errors.Select(e => e.Message.TrimEnd('.', ' ')).Distinct().Take(3);
        return $"{name}: {string.Join(", and ", wrong)}; “{name} --help” shows what it takes.".ReplaceLineEndings(" ").Replace("\t", "", StringComparison.Ordinal);
    }
}
