using NodaTime;

namespace Undersand;

/// <summary>All that a run found out: what the open files are written from and the report is made of.</summary>
public sealed record SurveyResult
{
    /// <summary>The survey, with defaults, assumptions and cautions.</summary>
    public required Survey Survey { get; init; }
    /// <summary>The lines, in the order of their file names.</summary>
    public required IReadOnlyList<LineResult> Lines { get; init; }
    /// <summary>Where the voxels are.</summary>
    public required VoxelGrid Grid { get; init; }
    /// <summary>Targets, most probable first.</summary>
    public required IReadOnlyList<Target> Targets { get; init; }
    /// <summary>A plan view and two sections through each of the strongest targets, in the order of <see cref="Targets"/>.</summary>
    public required IReadOnlyList<TargetView> Views { get; init; }
    /// <summary>Depth of the seabed below the water surface, smoothed over 0.5 m, metres.</summary>
    public required Raster Seabed { get; init; }
    /// <summary>Greatest probability in each column.</summary>
    public required Raster GreatestProbability { get; init; }
    /// <summary>Burial at which the probability is greatest, metres; no data where nothing was imaged.</summary>
    public required Raster BurialOfGreatest { get; init; }
    /// <summary>What could have been seen: the deepest burial at which a sphere of <see cref="ReferenceDiameter"/> would have stood out, metres; 0 none; no data where not surveyed.</summary>
    public required Raster CouldHaveSeen { get; init; }
    /// <summary>Diameter of the sphere that <see cref="CouldHaveSeen"/> speaks of, metres.</summary>
    public required double ReferenceDiameter { get; init; }
    /// <summary>How the evidence is distributed where there is no object, by burial.</summary>
    public required IReadOnlyList<NullTail> NullTails { get; init; }
    /// <summary>Volume that one object's probability refers to (a resolution cell), cubic metres, at 1 m burial.</summary>
    public required double CellVolume { get; init; }
    /// <summary>The magnetometer's readings and what stands out of them; empty where there are none.</summary>
    public IReadOnlyList<MagneticPoint> Magnetics { get; init; } = [];
    /// <summary>What was found where someone looked; empty where nobody said.</summary>
    public IReadOnlyList<Outcome> Outcomes { get; init; } = [];
    /// <summary>The newest ping: the date of everything written.</summary>
    public required Instant NewestPing { get; init; }
    /// <summary>Flaws met while processing, after those of the survey.</summary>
    public required IReadOnlyList<Caution> Cautions { get; init; }
    /// <summary>The processing steps taken, in order, with their settings in words.</summary>
    public required IReadOnlyList<ProcessingStep> Steps { get; init; }
}

/// <summary>A line, its quality and its pings.</summary>
/// <param name="Name">The recording's file name.</param>
/// <param name="Quality">Its quality.</param>
/// <param name="Pings">Its pings.</param>
public sealed record LineResult(string Name, LineQuality Quality, IReadOnlyList<PingResult> Pings);

/// <summary>One ping as processed.</summary>
/// <param name="Number">Ping number of the recording.</param>
/// <param name="Time">Start of transmission.</param>
/// <param name="Source">Where the source was.</param>
/// <param name="SeabedDepth">Depth of the seabed under it, below the water surface; null where not found.</param>
/// <param name="Used">Whether it was imaged.</param>
/// <param name="SnrDb">Seabed echo over noise, dB; null where not found.</param>
public sealed record PingResult(int Number, Instant Time, GridPoint Source, double? SeabedDepth, bool Used, double? SnrDb);

/// <summary>Three pictures of a target's surroundings, in dB below the target's own peak.</summary>
/// <param name="TargetId">Whose.</param>
/// <param name="Plan">Greatest amplitude within 0.15 m of the target's burial, dB re its peak.</param>
/// <param name="EastWest">Section through the target from west to east.</param>
/// <param name="SouthNorth">Section through the target from south to north.</param>
public sealed record TargetView(string TargetId, Raster Plan, Section EastWest, Section SouthNorth);

/// <summary>A vertical section: <c>Values[i * BurialCount + k]</c> at distance <c>Start + i·Spacing</c> and burial <c>FirstBurial + k·BurialSpacing</c>; NaN is no data.</summary>
/// <param name="AxisLabel">What runs along it (“easting, m”).</param>
/// <param name="Start">Coordinate of the first column.</param>
/// <param name="Spacing">Metres between columns.</param>
/// <param name="Count">Columns.</param>
/// <param name="FirstBurial">Burial of the first level.</param>
/// <param name="BurialSpacing">Metres between levels.</param>
/// <param name="BurialCount">Levels.</param>
/// <param name="Values">Column by column.</param>
public sealed record Section(string AxisLabel, double Start, double Spacing, int Count, double FirstBurial, double BurialSpacing, int BurialCount, float[] Values);

/// <summary>How often the evidence exceeds a value where there is no object: measured in the survey, fitted, and by formula.</summary>
/// <param name="FromBurial">Metres.</param>
/// <param name="ToBurial">Metres.</param>
/// <param name="Statistic">The values, rising: coherent energy over its local mean, dB.</param>
/// <param name="Measured">The survey's peaks above each, per resolution cell.</param>
/// <param name="Fitted">The tail used, which leaves out the survey's own objects.</param>
/// <param name="Formula">For independent Gaussian traces of equal power.</param>
public sealed record NullTail(double FromBurial, double ToBurial, IReadOnlyList<double> Statistic, IReadOnlyList<double> Measured, IReadOnlyList<double> Fitted, IReadOnlyList<double> Formula);

/// <summary>A processing step, recorded once it has succeeded.</summary>
/// <param name="Name">What was done.</param>
/// <param name="Settings">With which settings, in words or numbers with units.</param>
public sealed record ProcessingStep(string Name, IReadOnlyDictionary<string, string> Settings);
