using Undersand.Storage.Surveys;

namespace Undersand.Runs;

/// <summary>Finds the results a person means by a folder, or says in a sentence what the folder is instead.</summary>
public static class ResultsPlace
{
    /// <summary>The folder that holds <c>run.json</c>: the one named, or <c>results</c> in it.</summary>
    /// <exception cref="SurveyException">There are none.</exception>
    public static string Find(string named)
    {
        string folder = Path.GetFullPath(named);
        if (File.Exists(Path.Combine(folder, ResultsFiles.Record)))
            return folder;
        string below = Path.Combine(folder, "results");
        if (File.Exists(Path.Combine(below, ResultsFiles.Record)))
            return below;
        if (File.Exists(folder))
            throw new SurveyException(named, null, "this is a file, and results lie in a folder", "name the folder that holds run.json");
        if (!Directory.Exists(folder))
            throw new SurveyException(named, null, "there is no such folder", "name the folder that undersand process or undersand demo wrote its results to");
        if (SurveyFolder.IsOne(folder))
            throw new SurveyException(named, null, "this is a survey, not results", $"process it first with “undersand process {named} --out results”, then open results");
        throw new SurveyException(named, null, "this is no results folder (it has no run.json)", "name the folder that undersand process or undersand demo wrote its results to");
    }
}
