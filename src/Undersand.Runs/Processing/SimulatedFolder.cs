using Undersand.Simulation;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Processing;

/// <summary>Writes a simulated survey as the folder that a surveyor would hand over, and the truth apart from it.</summary>
internal static class SimulatedFolder
{
    public static void Write(string survey, string truth, SimulatedSurvey simulated)
    {
        Storage.WholeFile.MakeFolder(survey);
        SurveyFolderWriter.WriteSurvey(survey, simulated.Survey);
        if (simulated.Survey.Array is { } array)
            SurveyFolderWriter.WriteArray(survey, array);
        SurveyFolderWriter.WriteNavigation(survey, simulated.Navigation.SelectMany(l => l).OrderBy(s => s.Time).Select(s => new Positioning.NavigationFix(s.Time, new Positioning.VehiclePose(s.Position, s.Attitude))));
        SurveyFolderWriter.WritePings(survey, simulated.Lines);
        foreach (var line in simulated.Lines)
            SurveyFolderWriter.WriteRecording(survey, line, simulated.Survey.Waveform);
        Storage.WholeFile.WriteText(truth, TruthJson.Of(simulated.Truth));
    }
}
