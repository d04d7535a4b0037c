using System.CommandLine;
using System.Diagnostics;
using Undersand.Workbench;

namespace Undersand.App.Commands;

/// <summary><c>undersand open [PLACE]</c>.</summary>
internal static class OpenCommand
{
    public static Command Create(Session session)
    {
        var place = new Argument<string?>("PLACE") { Description = "A results folder, or a survey's; left out, ./results or ./demo, else the demo is offered.", Arity = ArgumentArity.ZeroOrOne };
        var results = new Option<string?>("--out") { Description = "Where a survey's results go [default: those that lie beside it, else SURVEY-results].", HelpName = "RESULTS" };
        var watch = new Option<bool>("--watch") { Description = "Take up recordings as they arrive in the survey's folder." };
        var port = new Option<int?>("--port") { Description = "The port on this machine [default: a free one].", HelpName = "N" };
        port.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && !(int.TryParse(result.Tokens[0].Value, out int n) && n is >= 1 and <= 65535))
                result.AddError($"--port is a whole number from 1 to 65535, not “{result.Tokens[0].Value}”");
        });
        var noBrowser = new Option<bool>("--no-browser") { Description = "Only say the address." };
        var command = new CommandWithExample("open", "Look at results in the browser, have a survey processed, or watch one while it is recorded. Nothing leaves this machine.",
            "undersand open demo\nundersand open surveys/block-c --watch\nundersand open results/block-c --port 8080 --no-browser")
        {
            place, results, watch, port, noBrowser,
        };
        command.SetAction((parsed, _) => session.ServeAsync(parsed, stop => ServeAsync(session, new WorkbenchOptions(parsed.GetValue(place), parsed.GetValue(port) ?? 0) { Out = parsed.GetValue(results), Watch = parsed.GetValue(watch), Runner = session.Runner }, !parsed.GetValue(noBrowser), stop)));
        return command;
    }

    private static async Task ServeAsync(Session session, WorkbenchOptions options, bool browser, CancellationToken stop)
    {
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(options);
        session.Output.WriteLine($"{workbench.Address} shows {workbench.What}; Ctrl-C ends it.");
        if (!WorkbenchServer.HasClient)
            session.Output.WriteLine("Map and section are missing: Node 20.19 or later and npm were not at hand when this was built.");
        session.Output.Flush();
        if (browser)
            OpenBrowser(workbench.Address, session.Output);
        await Task.Delay(Timeout.Infinite, stop);
    }

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
