using NodaTime;
using Undersand.Runs.Processing;
using Undersand.Storage.Surveys;
using Undersand.Storage.Zarr;

namespace Undersand.Runs;

/// <summary>Lets a run make new results beside those that people look at, and changes the two when it has finished.</summary>
/// <remarks>
/// Nobody else may write to the results meanwhile. What a run doesn't make, the judgements above all, stays where it is. <c>run.json</c> goes first and comes
/// last, so that a change that was cut short is known as unfinished.
/// </remarks>
internal sealed class ResultsTurn : IDisposable
{
    // What the next run looks up in earlier results: whose they are, which target had which name, and the seabed that people laid.
    private static readonly string[] s_known = [ResultsFiles.Record, "targets.geojson", SeabedByHand.FileName];
    private readonly string _results, _aside;
    private readonly RunLock _lock;

    /// <summary>When a run began that did not end, be it that it was stopped or that it went down with the program or the machine; null where there is none.</summary>
    public static Instant? LeftOff(string results)
    {
        if (RunLock.IsHeld(results))
            return null;
        var left = new FileInfo(Path.Combine(results, RunLock.FileName));
        return left.Exists ? Instant.FromDateTimeUtc(left.LastWriteTimeUtc) : new[] { NextOf(results), results }.Select(f => RunRecord.TryRead(Path.Combine(f, ResultsFiles.Record))).FirstOrDefault(r => r is { Finished: false })?.Timings?.Started;
    }

    /// <param name="results">The results' folder; made if missing.</param>
    /// <param name="survey">The survey's folder, which is never written to.</param>
    /// <exception cref="SurveyException">Another run is at work there, or the place can't be written to.</exception>
    public ResultsTurn(string results, string survey)
    {
        FolderPlaces.RefuseInside(results, survey);
        (_results, _aside, Next) = (results, results + ".aside", NextOf(results));
        Directory.CreateDirectory(results);
        _lock = RunLock.Take(results, results);
        Directory.CreateDirectory(Next);
    }

    /// <summary>Brings the folder of the run to where the results are, unless a run that was stopped left something newer there.</summary>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void Prepare(IProgressSink progress, CancellationToken cancellation)
    {
        if (Directory.Exists(_aside))
            Directory.Delete(_aside, recursive: true);
        File.Delete(_aside);
        bool isAhead = RunRecord.TryRead(Path.Combine(Next, ResultsFiles.Record)) is { Finished: false };
        if (!isAhead)
        {
            progress.Begin("Taking over the results shown", 100, "%");
            VolumeCopy.Follow(Path.Combine(_results, ResultsFiles.Volume), Path.Combine(Next, ResultsFiles.Volume), new FractionProgress(progress), cancellation);
        }
        foreach (string name in s_known.Where(n => !(isAhead && n == ResultsFiles.Record) && File.Exists(Path.Combine(_results, n))))
            File.Copy(Path.Combine(_results, name), Path.Combine(Next, name), overwrite: true);
    }

    /// <summary>Where the run is to write.</summary>
    public string Next { get; }

    /// <summary>The finished results take the place of the earlier ones, and those theirs.</summary>
    public void Change()
    {
        string record = Path.Combine(_results, ResultsFiles.Record), finished = Path.Combine(Next, ResultsFiles.Record);
        File.Delete(record);
        // People may have laid more meanwhile: theirs stays.
        File.Delete(Path.Combine(Next, SeabedByHand.FileName));
        foreach (string next in Directory.GetFileSystemEntries(Next).Where(p => p != finished))
        {
            string now = Path.Combine(_results, Path.GetFileName(next));
            bool had = Path.Exists(now);
            if (had)
                Directory.Move(now, _aside);
            Directory.Move(next, now);
            if (had)
                Directory.Move(_aside, next);
        }
        File.Move(finished, record);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _lock.Dispose();
        FolderPlaces.RemoveEmpty([Next, _results]);
    }

    private static string NextOf(string results) => results + ".next";
}
