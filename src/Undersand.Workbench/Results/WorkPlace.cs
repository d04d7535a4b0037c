using Undersand.Runs;
using Undersand.Storage.Surveys;

namespace Undersand.Workbench.Results;

/// <summary>What a person means by a folder: where the results lie or will go, and the survey they are made from.</summary>
/// <param name="Results">The results' folder; may be missing yet.</param>
/// <param name="Survey">The survey's folder; null where it isn't known.</param>
/// <param name="Demo">The folder that the demo is offered to be made in; null where a survey or results are there.</param>
internal sealed record WorkPlace(string Results, string? Survey, string? Demo = null)
{
    /// <summary>Whether finished results are there to be shown.</summary>
    public bool HasResults => RunRecord.TryRead(Path.Combine(Results, ResultsFiles.Record)) is { Finished: true };

    /// <summary>Finds out.</summary>
    /// <param name="named">A results folder, a survey folder, a folder around either, or null for what lies about.</param>
    /// <param name="results">Where the results go; null for beside the survey.</param>
    /// <param name="watch">Whether recordings are still to arrive, so that an empty folder will do.</param>
    /// <exception cref="SurveyException">It is none of these.</exception>
    public static WorkPlace Of(string? named, string? results, bool watch)
    {
        if (named is null)
        {
            string? about = new[] { "results", "demo" }.FirstOrDefault(f => File.Exists(Path.Combine(f, ResultsFiles.Record)) || File.Exists(Path.Combine(f, "results", ResultsFiles.Record)));
            if (about is null && !watch)
                return new(Path.GetFullPath(Path.Combine("demo", "results")), Path.GetFullPath(Path.Combine("demo", "survey")), Path.GetFullPath("demo"));
            named = about ?? throw new SurveyException("open", null, "no folder to watch is named", "name the survey's folder");
        }
        string folder = Path.GetFullPath(named);
        if (IsSurvey(folder) || (watch && Directory.Exists(folder) && !HoldsResults(folder)))
            return new(results is null ? Beside(folder) : Path.GetFullPath(results), folder);
        if (IsSurvey(Path.Combine(folder, "survey")) && !File.Exists(Path.Combine(folder, ResultsFiles.Record)))
            return new(Path.GetFullPath(results ?? Path.Combine(folder, "results")), Path.Combine(folder, "survey"));
        if (results is not null)
            throw new SurveyException(named, null, "--out says where a survey's results go, and this is no survey", "leave --out away, or name the survey's folder");
        string found = ResultsPlace.Find(named);
        string survey = Path.Combine(Path.GetDirectoryName(found)!, "survey");
        var place = new WorkPlace(found, IsOf(found, survey) ? survey : null);
        if (place.Survey is null)
            _ = RunRecord.OfFinished(found, named);
        return place;
    }

    // The results that were made from this survey, where they lie about; else a folder of its own beside it.
    private static string Beside(string survey)
    {
        string around = Path.GetDirectoryName(survey) ?? survey, own = survey + "-results";
        return new[] { own, Path.Combine(around, "results"), Path.GetFullPath("results") }.FirstOrDefault(r => IsOf(r, survey)) ?? own;
    }

    private static bool IsOf(string results, string survey) =>
        Directory.Exists(survey) && RunRecord.TryRead(Path.Combine(results, ResultsFiles.Record)) is { } record
        && record.Inputs.Any(i => i.IsRecording && i.LiesIn(survey));

    private static bool HoldsResults(string folder) => File.Exists(Path.Combine(folder, ResultsFiles.Record)) || File.Exists(Path.Combine(folder, "results", ResultsFiles.Record));

    private static bool IsSurvey(string folder) =>
        SurveyFolder.IsOne(folder) && !File.Exists(Path.Combine(folder, ResultsFiles.Record));
}
