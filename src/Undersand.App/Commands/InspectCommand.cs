using System.CommandLine;
using Undersand.Runs;

namespace Undersand.App.Commands;

/// <summary><c>undersand inspect FILE.sgy</c>.</summary>
internal static class InspectCommand
{
    public static Command Create(Session session)
    {
        var file = new Argument<string>("FILE.sgy") { Description = "Any SEG-Y file." };
        var command = new CommandWithExample("inspect", "Print a page about a recording: what is in it, where and when it was made, and what looks wrong.",
            "undersand inspect surveys/block-c/line-01.sgy")
        {
            file,
        };
        command.SetAction(parsed =>
        {
            var request = new InspectRequest(parsed.GetRequiredValue(file));
            return session.Do(parsed, request.File, resumes: false, (runner, progress, stop) => runner.Inspect(request, progress, stop));
        });
        return command;
    }
}
