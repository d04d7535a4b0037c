using System.CommandLine;
using Undersand.Runs;

namespace Undersand.App.Commands;

/// <summary><c>undersand process SURVEY --out RESULTS</c>.</summary>
internal static class ProcessCommand
{
    private static readonly string[] Losses = ["absorption", "spreading", "transmission"];

    public static Command Create(Session session)
    {
        var survey = new Argument<string>("SURVEY") { Description = "The survey's folder: survey.json and one .sgy a line. Never written to." };
        var results = new Option<string>("--out") { Description = "The folder for the results; made if missing.", HelpName = "RESULTS", Required = true };
        Option<int?> threads = Arguments.Threads();
        Option<double?> voxel = Arguments.Metres("--voxel", 1, "Edge of a voxel in metres [default: as survey.json says, else 0.05].");
        Option<double?> burial = Arguments.Metres("--max-burial", 50, "Deepest burial imaged in metres [default: as survey.json says, else 3].");
        Option<string> engine = new Option<string>("--engine") { Description = "The summation kernel; plain is the slow one that is easy to check.", HelpName = "plain|vector", DefaultValueFactory = _ => "vector" }
            .AcceptOnlyFromAmong("plain", "vector");
        Option<string[]> without = new Option<string[]>("--without") { Description = "Losses not to undo, to see what undoing them does; may be repeated.", HelpName = string.Join('|', Losses) }
            .AcceptOnlyFromAmong(Losses);
        var whiten = new Option<bool>("--whiten") { Description = "Flatten the compressed pulses' spectrum: sharper, noisier." };

        var command = new CommandWithExample("process", "Image a survey's recordings, find what lies buried, and write the report and the open files.",
            "undersand process surveys/block-c --out results/block-c\nundersand process surveys/block-c --out results/coarse --voxel 0.1 --max-burial 2")
        {
            survey, results, threads, voxel, burial, engine, without, whiten,
        };
        command.SetAction(parsed =>
        {
            var request = new ProcessRequest(parsed.GetRequiredValue(survey), parsed.GetRequiredValue(results))
            {
                Threads = parsed.GetValue(threads),
                Voxel = parsed.GetValue(voxel),
                MaxBurial = parsed.GetValue(burial),
                Engine = parsed.GetRequiredValue(engine),
                Without = [.. (parsed.GetValue(without) ?? []).Distinct().Order(StringComparer.Ordinal)],
                Whiten = parsed.GetValue(whiten),
            };
            return session.Do(parsed, request.Results, resumes: true, (runner, progress, stop) => runner.Process(request, progress, stop));
        });
        return command;
    }
}
