using Undersand.Positioning;

namespace Undersand.Storage.Geo;

/// <summary>The reference system that a survey's results are in.</summary>
internal static class SurveyFrame
{
    /// <exception cref="SurveyException">The survey names a system that isn't known.</exception>
    public static ProjectedCrs Of(Survey survey) =>
        ProjectedCrs.TryFromEpsg(survey.Epsg, out ProjectedCrs? crs)
            ? crs
            : throw new SurveyException("survey.json", "crs", $"EPSG:{survey.Epsg} is not known", $"name one of {ProjectedCrs.Known}");
}
