using System.CommandLine;
using Undersand.Runs;

namespace Undersand.App.Commands;

/// <summary><c>undersand demo</c>.</summary>
internal static class DemoCommand
{
    public static Command Create(Session session)
    {
        var folder = new Option<string>("--out") { Description = "The folder for the demo's survey and its results; made if missing.", HelpName = "DIR", DefaultValueFactory = _ => "demo" };
        Option<int?> threads = Arguments.Threads();
        var command = new CommandWithExample("demo",
            "Make a survey of a scene of our own, process it as a survey of yours would be, and show its truth beside the result. Under 2 minutes.",
            "undersand demo\nundersand demo --out somewhere/else")
        {
            folder, threads,
        };
        command.SetAction(parsed =>
        {
            var request = new DemoRequest(parsed.GetRequiredValue(folder), parsed.GetValue(threads));
            return session.Do(parsed, request.Folder, resumes: true, (runner, progress, stop) => runner.Demo(request, progress, stop));
        });
        return command;
    }
}
