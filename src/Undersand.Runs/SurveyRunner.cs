using Undersand.Runs.Processing;
using Undersand.Storage;
using Undersand.Storage.Surveys;

namespace Undersand.Runs;

/// <summary>The program's work behind its commands.</summary>
public sealed class SurveyRunner : ISurveyRunner
{
    private readonly RunMemory _memory = new();

    /// <inheritdoc/>
    public RunOutcome Process(ProcessRequest request, IProgressSink progress, CancellationToken cancellation) => ProcessRun.Run(request, _memory, progress, cancellation, out _);

    /// <inheritdoc/>
    public RunOutcome Demo(DemoRequest request, IProgressSink progress, CancellationToken cancellation) => DemoRun.Run(request, progress, cancellation);

    /// <inheritdoc/>
    public RunOutcome Simulate(SimulateRequest request, IProgressSink progress, CancellationToken cancellation) => SimulateRun.Run(request, progress, cancellation);

    /// <inheritdoc/>
    public RunOutcome Inspect(InspectRequest request, IProgressSink progress, CancellationToken cancellation) => new(SegyInspection.Of(request.File).ToLines(), []);

    /// <inheritdoc/>
    public RunOutcome Report(ReportRequest request, IProgressSink progress, CancellationToken cancellation)
    {
        string results = ResultsPlace.Find(request.Results), folder = request.Folder ?? results, name = request.IsPublic ? "report-public" : "report-judged";
        JudgedReport report = JudgedReport.Of(results, request.IsPublic);
        string html = Path.Combine(folder, name + ".html"), pdf = Path.Combine(folder, name + ".pdf");
        WholeFile.Write(html, report.WriteHtml);
        WholeFile.Write(pdf, report.WritePdf);
        string what = request.IsPublic ? "the public version, positions withheld" : "the report with judgements";
        return new RunOutcome([], [new FileToOpen(html, what), new FileToOpen(pdf, "the same on paper")]);
    }
}
