using System.CommandLine;
using Undersand.Runs;

namespace Undersand.App.Commands;

/// <summary><c>undersand simulate SCENE.json --out SURVEY</c>.</summary>
internal static class SimulateCommand
{
    public static Command Create(Session session)
    {
        var scene = new Argument<string>("SCENE.json") { Description = "The scene: seabed, sediment, things in it, lines to run, noise and its seed." };
        var survey = new Option<string>("--out") { Description = "The survey's folder to make.", HelpName = "SURVEY", Required = true };
        var truth = new Option<string?>("--truth") { Description = "The file for the truth, outside the survey [default: SURVEY-truth.json beside it].", HelpName = "FILE" };
        Option<int?> threads = Arguments.Threads();
        var command = new CommandWithExample("simulate", "Make a survey that never was: recordings of a scene, with the truth kept apart.",
            "undersand simulate scene.json --out surveys/practice\nundersand process surveys/practice --out results/practice")
        {
            scene, survey, truth, threads,
        };
        command.SetAction(parsed =>
        {
            string folder = parsed.GetRequiredValue(survey);
            string beside = Path.TrimEndingDirectorySeparator(folder) + "-truth.json";
            var request = new SimulateRequest(parsed.GetRequiredValue(scene), folder, parsed.GetValue(truth) ?? beside, parsed.GetValue(threads));
            return session.Do(parsed, folder, resumes: false, (runner, progress, stop) => runner.Simulate(request, progress, stop));
        });
        return command;
    }
}
