using Undersand.Runs;
using Undersand.Runs.Processing;
using Undersand.Storage.Surveys;

namespace Undersand.Workbench.Results;

/// <summary>The recordings that results were made from, where they still lie about: beside the results folder or around it. Opened when first asked for.</summary>
internal sealed class RecordedSurvey(OpenedResults results) : IDisposable
{
    private readonly Lazy<(SurveyFolder? Survey, string Why)> _opened = new(() => Open(results));

    /// <summary>The recordings; null where they are gone or can't be read.</summary>
    public SurveyFolder? Folder => _opened.Value.Survey;

    /// <summary>One sentence: why they aren't there, and what to do; empty where they are.</summary>
    public string Why => _opened.Value.Why;

    public void Dispose()
    {
        if (_opened.IsValueCreated)
            Folder?.Dispose();
    }

    private static (SurveyFolder?, string) Open(OpenedResults results)
    {
        string around = Path.GetDirectoryName(results.Folder) ?? results.Folder;
        try
        {
            return new[] { around }.Concat(Directory.EnumerateDirectories(around)).FirstOrDefault(f => HoldsInputs(f, results.Record)) is { } folder
                ? (SurveyFolder.Open(folder, Formulas.OfScience), "")
                : (null, "The recordings that these results were made from don't lie beside them, so their echoes can't be shown: put the survey's folder, unchanged, beside the results' folder and start the workbench again.");
        }
        catch (Exception fault) when (fault is SurveyException or IOException or UnauthorizedAccessException)
        {
            return (null, $"The recordings beside these results can't be read: {fault.Message.TrimEnd('.')}. Mend that and start the workbench again.");
        }
    }

    // Names and sizes, so that nothing large is read through before the first picture.
    private static bool HoldsInputs(string folder, RunRecord record) =>
        record.Inputs.Any(i => i.IsRecording) && record.Inputs.Where(i => i.IsRecording).All(i => new FileInfo(Path.Combine(folder, i.File)) is { Exists: true } file && file.Length == i.Bytes);
}
