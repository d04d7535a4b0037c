using System.Diagnostics;
using System.Globalization;
using Undersand.Workbench;

namespace Undersand.Bench.Viewers;

/// <summary>
/// Many people at one workbench, on loopback: each has a page with its live connection, chooses targets and looks at pictures of map, slices and sections
/// that are made on demand. Viewers and server share the machine and the process: what is reported is worse than what people would meet.
/// </summary>
internal static class ViewersBench
{
    public static async Task<int> RunAsync(string[] args)
    {
        if (args.Length == 0)
        {
            Console.Error.WriteLine("viewers RESULTS [VIEWERS] [SECONDS]");
            return 2;
        }
        int count = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 50, seconds = args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : 30;
        await using RunningWorkbench workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(args[0]));
        using var client = new HttpClient(new SocketsHttpHandler { MaxConnectionsPerServer = 6 * count }) { BaseAddress = workbench.Address };
        View view = await View.AskAsync(client);
        Viewer[] viewers = [.. Enumerable.Range(0, count).Select(i => new Viewer(client, view, i))];
        var clock = Stopwatch.StartNew();
        foreach (Viewer viewer in viewers)
            await viewer.OpenAsync(CancellationToken.None);
        Console.WriteLine($"{count} pages opened and connected one after another in {clock.Elapsed.TotalSeconds:0.0} s");
        using var end = new CancellationTokenSource(TimeSpan.FromSeconds(seconds));
        clock.Restart();
        try
        {
            await Task.WhenAll(viewers.Select(v => v.LookAsync(end.Token)));
        }
        catch (OperationCanceledException) when (end.IsCancellationRequested)
        {
        }
        double[] pictures = [.. viewers.SelectMany(v => v.Pictures).Order()], choices = [.. viewers.SelectMany(v => v.Choices).Order()];
        using var self = Process.GetCurrentProcess();
        Console.WriteLine($"pictures: {pictures.Length / clock.Elapsed.TotalSeconds:0} a second; {Words(pictures)}");
        Console.WriteLine($"target chosen until its details are drawn: {choices.Length / clock.Elapsed.TotalSeconds:0} a second; {Words(choices)}");
        Console.WriteLine($"{viewers.Count(v => v.Alive)} of {count} live connections stand at the end; peak resident memory, viewers included, {self.PeakWorkingSet64 / 1048576.0:0} MiB; {Environment.ProcessorCount} cores");
        foreach (Viewer viewer in viewers)
            await viewer.DisposeAsync();
        return 0;
    }

    private static string Words(double[] sorted) =>
        sorted.Length == 0 ? "none" : string.Create(CultureInfo.InvariantCulture, $"median {At(sorted, 0.5):0} ms, 95th percentile {At(sorted, 0.95):0} ms, 99th {At(sorted, 0.99):0} ms, longest {sorted[^1]:0} ms");

    private static double At(double[] sorted, double share) => sorted[(int)(share * (sorted.Length - 1))];
}
