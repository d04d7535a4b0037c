namespace Undersand.Runs.Tests.App;

/// <summary>Takes the place of the science behind the commands. What it does is in the survey's name.</summary>
internal sealed class StandInRunner : ISurveyRunner
{
    public const string Long = "long", Refused = "refused", Broken = "broken", Quick = "quick";

    /// <summary>Tiles of the run that takes its time.</summary>
    public const int LongTiles = 2000;

    public ProcessRequest? Asked { get; private set; }

    public RunOutcome Process(ProcessRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        Asked = request;
        return ResultsFolder.Use(request.Results, request.Survey, folder => Path.GetFileName(request.Survey) switch
        {
            Long => MakeTiles(folder, LongTiles, progress, cancellation),
            Quick => MakeTiles(folder, 3, progress, cancellation),
            Refused => RefuseAfterTiles(folder, progress, cancellation),
            Broken => throw new InvalidOperationException("a promise was broken"),
            _ => throw new SurveyException(request.Survey, null, "there is no such folder", "give the survey's folder"),
        });
    }

    public RunOutcome Demo(DemoRequest request, IProgressSink progress, CancellationToken cancellation) => new([], []);

    public RunOutcome Simulate(SimulateRequest request, IProgressSink progress, CancellationToken cancellation) => new([request.Truth], []);

    public RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation) => new([request.File], []);

    public RunOutcome Report(ReportRequest request, IProgressSink progress, CancellationToken cancellation) => new([request.Results], []);

    private static RunOutcome MakeTiles(ResultsFolder folder, int count, IProgressSink progress, CancellationToken cancellation)
    {
        Directory.CreateDirectory(folder.Volume);
        progress.Begin("Summing", count, "tiles");
        for (int i = 0; i < count; i++)
        {
            string tile = Path.Combine(folder.Volume, $"{i}.0"), next = Path.Combine(folder.Volume, $"{i + 1}.0.tmp");
            File.WriteAllText(next, "half");
            cancellation.ThrowIfCancellationRequested();
            File.WriteAllText(tile, "whole");
            if (count == LongTiles)
                Thread.Sleep(20);
            progress.Advance();
        }
        return new RunOutcome([$"{count} tiles"], [new FileToOpen(Path.Combine(folder.Named, "report.html"), "the report")]);
    }

    private static RunOutcome RefuseAfterTiles(ResultsFolder folder, IProgressSink progress, CancellationToken cancellation)
    {
        MakeTiles(folder, 2, progress, cancellation);
        throw new SurveyException("line-02.sgy", "trace 7", "the samples are all zero", "record it again or leave it out");
    }
}
