namespace Undersand.Storage.Surveys;

/// <summary>What reading a survey needs from the science, passed in so that Storage need not know it.</summary>
/// <param name="SoundSpeed">Speed of sound in sea water, m/s, from temperature in °C, practical salinity, depth in metres.</param>
/// <param name="SedimentByName">A row of the built-in sediment table, or null where it has no such row.</param>
/// <param name="SedimentNames">The names of its rows, for messages.</param>
/// <param name="IsKnownEpsg">Whether a projected reference system of this EPSG code can be used.</param>
public sealed record SurveyFormulas(
    Func<double, double, double, double> SoundSpeed,
    Func<string, Sediment?> SedimentByName,
    IReadOnlyList<string> SedimentNames,
    Func<int, bool> IsKnownEpsg);
