using System.CommandLine;
using System.Diagnostics;
using Undersand.Workbench;
using Undersand.Workbench.Network;

namespace Undersand.App.Commands;

/// <summary><c>undersand open [PLACE]</c>.</summary>
internal static class OpenCommand
{
    private const int NetworkPort = 8470;

    public static Command Create(Session session)
    {
        var place = new Argument<string?>("PLACE") { Description = "A results folder, or a survey's; left out, ./results or ./demo, else the demo is offered.", Arity = ArgumentArity.ZeroOrOne };
        var results = new Option<string?>("--out") { Description = "Where a survey's results go [default: those that lie beside it, else SURVEY-results].", HelpName = "RESULTS" };
        var watch = new Option<bool>("--watch") { Description = "Take up recordings as they arrive in the survey's folder." };
        Option<int?> port = Port("--port", "The port on this machine [default: a free one].");
        var network = new Option<bool>("--network") { Description = "Answer on the boat's network too, over TLS, to devices that are paired by a code." };
        Option<int?> networkPort = Port("--network-port", $"The port on the boat's network [default: {NetworkPort}].");
        var hosts = new Option<string[]>("--host") { Description = "A further name by which the workbench may be called there; may be repeated.", HelpName = "NAME" };
        hosts.Validators.Add(result =>
        {
            if (result.Tokens.FirstOrDefault(t => Uri.CheckHostName(t.Value) is not (UriHostNameType.Dns or UriHostNameType.IPv4)) is { } wrong)
                result.AddError($"--host is a name or an address like survey-desk or 192.168.1.20, not “{wrong.Value}”");
        });
        var bases = new Option<string[]>("--base") { Description = "A base map of your own to lay under the survey, in its reference system: GeoTIFF or GeoPackage. May be given again.", HelpName = "FILE" };
        var noBrowser = new Option<bool>("--no-browser") { Description = "Only say the address." };
        var command = new CommandWithExample("open", "Look at results in the browser, have a survey processed, or watch one while it is recorded. Nothing leaves this machine, unless you let the boat's network in.",
            "undersand open demo\nundersand open surveys/block-c --watch\nundersand open results/block-c --port 8080 --no-browser\nundersand open demo --base harbour-chart.tif\nundersand open results --network")
        {
            place, results, watch, port, bases, noBrowser, network, networkPort, hosts,
        };
        command.SetAction((parsed, _) => session.ServeAsync(parsed, stop => ServeAsync(session, new WorkbenchOptions(parsed.GetValue(place), parsed.GetValue(port) ?? 0)
        {
            Out = parsed.GetValue(results),
            Bases = parsed.GetValue(bases) ?? [],
            Watch = parsed.GetValue(watch),
            Runner = session.Runner,
            Network = parsed.GetValue(network) ? new NetworkOptions(parsed.GetValue(networkPort) ?? NetworkPort, parsed.GetValue(hosts) ?? []) : null,
        }, !parsed.GetValue(noBrowser), stop)));
        return command;
    }

    private static async Task ServeAsync(Session session, WorkbenchOptions options, bool browser, CancellationToken stop)
    {
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(options);
        session.Output.WriteLine($"{workbench.Address} shows {workbench.What}; Ctrl-C ends it.");
        if (workbench.Network is { } onBoard)
            Say(onBoard, workbench.Address, session.Output);
        foreach (string sentence in workbench.Refused)
            session.Refuse(sentence);
        if (!WorkbenchServer.HasClient)
            session.Output.WriteLine("Map and section are missing: Node 20.19 or later and npm were not at hand when this was built.");
        session.Output.Flush();
        if (browser)
            OpenBrowser(workbench.Address, session.Output);
        await Task.Delay(Timeout.Infinite, stop);
    }

    private static Option<int?> Port(string name, string description)
    {
        var port = new Option<int?>(name) { Description = description, HelpName = "N" };
        port.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && !(int.TryParse(result.Tokens[0].Value, out int n) && n is >= 1 and <= 65535))
                result.AddError($"{name} is a whole number from 1 to 65535, not “{result.Tokens[0].Value}”");
        });
        return port;
    }

    private static void Say(BoatNetwork network, Uri here, TextWriter output)
    {
        output.WriteLine($"On the boat's network: {string.Join(", ", network.Addresses)}");
        output.WriteLine("Whoever opens it types a code. With it they see where everything lies; give it only to those entitled to know.");
        foreach (Role role in Enum.GetValues<Role>())
            output.WriteLine($"  {role.ToString().ToLowerInvariant(),-6} {network.Codes.Of(role)}");
        output.WriteLine($"Their browser warns once, since no authority vouches for this machine. The certificate's SHA-256 fingerprint: {network.Fingerprint}");
        output.WriteLine($"New codes, and who is paired: {new Uri(here, "devices")}");
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
