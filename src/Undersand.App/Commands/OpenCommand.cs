using System.CommandLine;
using System.Diagnostics;
using Undersand.Workbench;

namespace Undersand.App.Commands;

/// <summary><c>undersand open [RESULTS]</c>.</summary>
internal static class OpenCommand
{
    public static Command Create(Session session)
    {
        var results = new Argument<string?>("RESULTS") { Description = "The results' folder; left out, ./results or ./demo.", Arity = ArgumentArity.ZeroOrOne };
        var port = new Option<int?>("--port") { Description = "The port on this machine [default: a free one].", HelpName = "N" };
        port.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && !(int.TryParse(result.Tokens[0].Value, out int n) && n is >= 1 and <= 65535))
                result.AddError($"--port is a whole number from 1 to 65535, not “{result.Tokens[0].Value}”");
        });
        var bases = new Option<string[]>("--base") { Description = "A base map of your own to lay under the survey, in its reference system: GeoTIFF or GeoPackage. May be given again.", HelpName = "FILE" };
        var noBrowser = new Option<bool>("--no-browser") { Description = "Only say the address." };
        var command = new CommandWithExample("open", "Look at results in the browser: map, section, targets, and what you make of them. Nothing leaves this machine.",
            "undersand open demo\nundersand open results/block-c --port 8080 --no-browser\nundersand open demo --base harbour-chart.tif")
        {
            results, port, bases, noBrowser,
        };
        command.SetAction((parsed, _) => session.ServeAsync(parsed, stop => ServeAsync(session, new WorkbenchOptions(Named(parsed.GetValue(results)), parsed.GetValue(port) ?? 0) { Bases = parsed.GetValue(bases) ?? [] }, !parsed.GetValue(noBrowser), stop)));
        return command;
    }

    private static async Task ServeAsync(Session session, WorkbenchOptions options, bool browser, CancellationToken stop)
    {
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(options);
        session.Output.WriteLine($"{workbench.Address} shows {options.Results}; Ctrl-C ends it.");
        foreach (string sentence in workbench.Refused)
            session.Refuse(sentence);
        if (!WorkbenchServer.HasClient)
            session.Output.WriteLine("Map and section are missing: Node 20.19 or later and npm were not at hand when this was built.");
        session.Output.Flush();
        if (browser)
            OpenBrowser(workbench.Address, session.Output);
        await Task.Delay(Timeout.Infinite, stop);
    }

    // What a person most likely means, when they name nothing.
    private static string Named(string? results) => results ?? (Directory.Exists("results") ? "results" : Directory.Exists("demo") ? "demo"
        : throw new SurveyException("open", null, "no results folder is named, and here is neither “results” nor “demo”", "make the demo with “undersand demo”, then “undersand open demo”"));

    private static void OpenBrowser(Uri address, TextWriter output)
    {
        try
        {
            using Process? started = Process.Start(new ProcessStartInfo(address.ToString()) { UseShellExecute = true });
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidOperationException or PlatformNotSupportedException)
        {
            output.WriteLine("No browser could be started from here: open the address yourself.");
        }
    }
}
