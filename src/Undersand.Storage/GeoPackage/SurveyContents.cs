namespace Undersand.Storage.GeoPackage;

/// <summary>What <c>survey.gpkg</c> holds, read back.</summary>
/// <param name="Epsg">Reference system of all places.</param>
/// <param name="Lines">The lines with their quality and pings, in the order of their names.</param>
/// <param name="Targets">The targets, most probable first.</param>
/// <param name="Coverage">Where anything was imaged.</param>
/// <param name="Assumptions">What was taken for granted.</param>
/// <param name="Cautions">What is wrong with the data.</param>
/// <param name="Magnetics">The magnetometer's readings in order of time; empty where none were given.</param>
/// <param name="Outcomes">What was found where someone looked; empty where nobody said.</param>
public sealed record SurveyContents(
    int Epsg, IReadOnlyList<LineResult> Lines, IReadOnlyList<Target> Targets, IReadOnlyList<CoverageArea> Coverage, IReadOnlyList<Assumption> Assumptions, IReadOnlyList<Caution> Cautions,
    IReadOnlyList<MagneticPoint> Magnetics, IReadOnlyList<Outcome> Outcomes);

/// <summary>A connected area in which the reference sphere would have stood out down to about the same burial.</summary>
/// <param name="Rings">The outer ring, then the holes; each closed.</param>
/// <param name="SeenFrom">Seen down to at least this burial, metres; 0: perhaps nowhere.</param>
/// <param name="SeenTo">And to less than this, metres.</param>
/// <param name="SphereDiameter">Of the reference sphere, metres.</param>
/// <param name="Area">Square metres.</param>
public sealed record CoverageArea(IReadOnlyList<IReadOnlyList<(double X, double Y)>> Rings, double SeenFrom, double SeenTo, double SphereDiameter, double Area);
