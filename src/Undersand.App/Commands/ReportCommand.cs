using System.CommandLine;
using Undersand.Runs;

namespace Undersand.App.Commands;

/// <summary><c>undersand report RESULTS [--public]</c>.</summary>
internal static class ReportCommand
{
    public static Command Create(Session session)
    {
        var results = new Argument<string>("RESULTS") { Description = "The results' folder, or the folder around it." };
        var isPublic = new Option<bool>("--public") { Description = "Withhold positions: no coordinates, maps, names, ids or exact dates. Title and contact are those kept in the workbench." };
        var folder = new Option<string?>("--out") { Description = "The folder for the report; made if missing [default: the results' folder].", HelpName = "DIR" };
        var command = new CommandWithExample("report", "Write the report with people's judgements in it, as a page and as a PDF; or its public version, with positions withheld.",
            "undersand report results/block-c\nundersand report results/block-c --public --out for-everyone")
        {
            results, isPublic, folder,
        };
        command.SetAction(parsed =>
        {
            var request = new ReportRequest(parsed.GetRequiredValue(results), parsed.GetValue(isPublic), parsed.GetValue(folder));
            return session.Do(parsed, request.Results, resumes: false, (runner, progress, stop) => runner.Report(request, progress, stop));
        });
        return command;
    }
}
