using Undersand.Runs;
using Undersand.Runs.Processing;
using Undersand.Storage.Surveys;

namespace Undersand.Workbench.Results;

/// <summary>The recordings that results were made from, where they still lie about: in the survey's folder that is known, beside the results folder or around it. Opened when first asked for.</summary>
/// <remarks>Its files are let go with it, not before: whoever asked may still be reading when other results are shown.</remarks>
internal sealed class RecordedSurvey(OpenedResults results, string? survey)
{
    private readonly Lazy<(SurveyFolder? Survey, string Why)> _opened = new(() => Open(results, survey));

    /// <summary>The recordings; null where they are gone or can't be read.</summary>
    public SurveyFolder? Folder => _opened.Value.Survey;

    /// <summary>One sentence: why they aren't there, and what to do; empty where they are.</summary>
    public string Why => _opened.Value.Why;

    private static (SurveyFolder?, string) Open(OpenedResults results, string? survey)
    {
        string around = Path.GetDirectoryName(results.Folder) ?? results.Folder;
        try
        {
            return new[] { survey, around }.OfType<string>().Concat(Directory.EnumerateDirectories(around)).FirstOrDefault(f => HoldsInputs(f, results.Record)) is { } folder
                ? (SurveyFolder.Open(folder, Formulas.OfScience), "")
                : (null, "The recordings that these results were made from don't lie beside them, so their echoes can't be shown: put the survey's folder, unchanged, beside the results' folder and start the workbench again.");
        }
        catch (Exception fault) when (fault is SurveyException or IOException or UnauthorizedAccessException)
        {
            return (null, $"The recordings beside these results can't be read: {fault.Message.TrimEnd('.')}. Mend that and start the workbench again.");
        }
    }

    private static bool HoldsInputs(string folder, RunRecord record) =>
        record.Inputs.Any(i => i.IsRecording) && record.Inputs.Where(i => i.IsRecording).All(i => i.LiesIn(folder));
}
