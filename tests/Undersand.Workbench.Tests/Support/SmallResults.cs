using System.Net.Http;
using Undersand.Runs;
using Undersand.Runs.Tests.Runs.EndToEnd;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Tests.Support;

[assembly: AssemblyFixture(typeof(SmallResults))]

namespace Undersand.Workbench.Tests.Support;

/// <summary>Two simulated lines over a ball, processed once for all tests, and a workbench that shows them.</summary>
public sealed class SmallResults : IAsyncLifetime
{
    private readonly TestFolder _folder = new();
    private RunningWorkbench? _workbench;

    /// <summary>The survey's folder.</summary>
    public string Survey => _folder["survey"];

    /// <summary>The results' folder; tests that write take a copy.</summary>
    public string Folder => _folder["results"];

    /// <summary>Where the workbench answers.</summary>
    public Uri Address => _workbench!.Address;

    /// <summary>Asks the workbench.</summary>
    public HttpClient Client { get; private set; } = null!;

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        SmallSurvey.Write(Survey, SmallSurvey.TwoLines);
        File.WriteAllLines(_folder["survey", "magnetometer.csv"], ["time_utc,easting,northing,depth_m,total_field_nt",
            .. Enumerable.Range(0, 60).Select(i => FormattableString.Invariant($"2026-05-04T12:00:{i:00}Z,{500_001 + 0.1 * i:0.0},5760001.5,3,{49_000 + (i == 30 ? 40 : i % 3 * 0.1):0.0}"))]);
        File.WriteAllLines(_folder["survey", "outcomes.csv"], ["easting,northing,radius_m,reached_depth_m,outcome,material,note", "500006.2,5759999,0.6,0.5,nothing,,clean sand", "500001.5,5759999,0.5,0.8,object,iron,"]);
        new SurveyRunner().Process(new ProcessRequest(Survey, Folder) { Threads = 2 }, new NoProgress(), CancellationToken.None);
        _workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(Folder));
        Client = new HttpClient { BaseAddress = Address };
    }

    /// <summary>A copy of the results, for a test that judges.</summary>
    /// <param name="below">A folder within the copy that takes the results, where nothing may lie beside them.</param>
    internal TestFolder Copy(string below = "")
    {
        var copy = new TestFolder();
        CopyTo(Path.Combine(copy.Path, below), Folder);
        return copy;
    }

    /// <summary>A copy of the results in <c>results</c>, with the recordings beside them.</summary>
    internal TestFolder CopyWithRecordings()
    {
        TestFolder copy = Copy("results");
        CopyTo(copy["survey"], Survey);
        return copy;
    }

    private static void CopyTo(string folder, string from)
    {
        foreach (string file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            string to = Path.Combine(folder, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            File.Copy(file, to);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Client?.Dispose();
        if (_workbench is not null)
            await _workbench.DisposeAsync();
        _folder.Dispose();
    }
}
