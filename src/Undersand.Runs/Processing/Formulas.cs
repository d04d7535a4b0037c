using Undersand.Acoustics;
using Undersand.Positioning;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Processing;

/// <summary>What reading a survey needs from the science.</summary>
public static class Formulas
{
    private static readonly Water s_usual = new(1500);

    /// <summary>The formulae and tables of Undersand.Acoustics and Undersand.Positioning.</summary>
    public static SurveyFormulas OfScience { get; } = new(
        SoundSpeed.OfSeaWater,
        name => SedimentTable.TryFind(name, out var row) ? row.Under(s_usual) : null,
        SedimentTable.Names,
        epsg => ProjectedCrs.TryFromEpsg(epsg, out _));
}
