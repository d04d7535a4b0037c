namespace Undersand.Runs.Processing;

/// <summary>A run of <c>process</c>: the results folder opened, the survey run, and what to say at the end.</summary>
internal static class ProcessRun
{
    public static RunOutcome Run(ProcessRequest request, RunMemory memory, IProgressSink progress, CancellationToken cancellation, out SurveyResult result)
    {
        result = ResultsFolder.Use(request.Results, request.Survey, folder => new SurveyRun(request, folder, memory, progress, cancellation).Run());
        string report = Path.Combine(request.Results, "report.html");
        return new RunOutcome([Summary(result), .. CautionLines.Of([.. result.Survey.Cautions, .. result.Cautions], result.Lines.Select(l => l.Quality.Name), report)],
        [
            new(report, "the report, for people"),
            new(Path.Combine(request.Results, "report.pdf"), "the same on paper"),
            new(Path.Combine(request.Results, "survey.gpkg"), "lines, pings, seabed, targets, coverage, for any GIS"),
            new(Path.Combine(request.Results, "targets.csv"), "the targets, for a spreadsheet"),
            new(Path.Combine(request.Results, "volume.zarr"), "the imaged voxels, for xarray or GDAL"),
        ]);
    }

    private static string Summary(SurveyResult result)
    {
        int probable = result.Targets.Count(t => t.Probability.Value > 0.5);
        return $"{result.Lines.Count} {(result.Lines.Count == 1 ? "line" : "lines")}, {result.Lines.Sum(l => l.Quality.PingsUsed)} of {result.Lines.Sum(l => l.Quality.Pings)} pings used; {result.Targets.Count} targets, {probable} of them more probable than not (probabilities are not calibrated yet).";
    }
}
