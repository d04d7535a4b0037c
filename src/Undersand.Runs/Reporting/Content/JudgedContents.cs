namespace Undersand.Runs.Reporting;

/// <summary>The report with people's judgements in it, made of what a results folder holds; the machine's own report stays as it was.</summary>
internal static class JudgedContents
{
    public static ReportDocument Compose(SurveyResult result, JudgedSurvey judged, Func<string, Picture?> picture)
    {
        string name = result.Survey.Name.Trim().Length > 0 ? result.Survey.Name : "Survey without a name";
        Block[] blocks =
        [
            new Heading(1, "Summary", "summary"),
            new Paragraph(Summary.Found(result)),
            new Paragraph(Summary.Looked(result)),
            .. Summary.Searched(result),
            new Paragraph("Method, lines, the survey’s own noise and pictures of single targets are in report.html and report.pdf, which no judgement changes."),
            .. JudgedPages.Blocks(result, judged, picture),
            .. Safety.Blocks(),
            .. TargetTables.Blocks(result),
            .. GivenPages.Blocks(result),
            .. Unseen.Blocks(result),
            .. Evidence.Meaning(result),
        ];
        return new(name, "What lies under this seabed, and what people make of it", $"Recorded {Contents.Dates(result)}", $"{name}: report with judgements", result.NewestPing, blocks);
    }
}
