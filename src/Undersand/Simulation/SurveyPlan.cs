using NodaTime;

namespace Undersand.Simulation;

/// <summary>How a scene is surveyed, and what the surveyor says about it afterwards.</summary>
public sealed record SurveyPlan
{
    /// <summary>The lines.</summary>
    public required IReadOnlyList<PlannedLine> Lines { get; init; }
    /// <summary>The vehicle's transducers; the beam pattern's level holds for source and receiver together where both see the same angle.</summary>
    public required ArrayDescription Array { get; init; }
    /// <summary>What is transmitted.</summary>
    public required Waveform Waveform { get; init; }
    /// <summary>Seconds between samples.</summary>
    public required double SampleInterval { get; init; }
    /// <summary>Seconds from the start of the transmission to the first sample.</summary>
    public required double FirstSampleTime { get; init; }
    /// <summary>Samples of a trace.</summary>
    public required int SampleCount { get; init; }
    /// <summary>Seconds between pings.</summary>
    public required double PingInterval { get; init; }
    /// <summary>Mean height of the vehicle's reference point over the seabed, metres.</summary>
    public required double Height { get; init; }
    /// <summary>The first ping of the first line, UTC.</summary>
    public Instant Start { get; init; } = Instant.FromUtc(2026, 5, 4, 9, 30);
    /// <summary>Peak pressure of the transmission at 1 m, Pa.</summary>
    public double SourcePressure { get; init; } = 1800;
    /// <summary>Pressure for one unit of the recorded samples, Pa.</summary>
    public double PascalPerUnit { get; init; } = 0.004;
    /// <summary>Whether the survey states its calibration.</summary>
    public bool StatesCalibration { get; init; } = true;
    /// <summary>The water that the survey states; the true one if null.</summary>
    public Water? StatedWater { get; init; }
    /// <summary>The sediment that the survey states; the true one if null.</summary>
    public Sediment? StatedSediment { get; init; }
    /// <summary>How the vehicle moves.</summary>
    public Motion Motion { get; init; } = new();
    /// <summary>What disturbs the recordings.</summary>
    public Disturbances Disturbances { get; init; } = new();
    /// <summary>Which paths besides those to the objects are simulated.</summary>
    public Paths Paths { get; init; } = new();
    /// <summary>What the survey asks for.</summary>
    public ImageSettings Image { get; init; } = new();
    /// <summary>What the survey believes beforehand.</summary>
    public Prior Prior { get; init; } = new();
}

/// <summary>A straight survey line.</summary>
/// <param name="Name">File name of its recording.</param>
/// <param name="StartEasting">Where it begins.</param>
/// <param name="StartNorthing">Where it begins.</param>
/// <param name="Heading">Which way it runs, clockwise from grid north.</param>
/// <param name="Length">Metres.</param>
/// <param name="Speed">m/s.</param>
public sealed record PlannedLine(string Name, double StartEasting, double StartNorthing, Angle Heading, double Length, double Speed);

/// <summary>How the vehicle moves about its line; each wobble is a slow random oscillation of the given standard deviation.</summary>
public sealed record Motion
{
    /// <summary>Standard deviation of the height, metres.</summary>
    public double Height { get; init; }
    /// <summary>Standard deviation of the distance from the line, metres.</summary>
    public double CrossTrack { get; init; }
    /// <summary>Standard deviation of the roll.</summary>
    public Angle Roll { get; init; }
    /// <summary>Standard deviation of the pitch.</summary>
    public Angle Pitch { get; init; }
    /// <summary>Standard deviation of the heading.</summary>
    public Angle Heading { get; init; }
    /// <summary>Seconds of the oscillations' middle period.</summary>
    public double Period { get; init; } = 6;
}

/// <summary>Paths besides those to the objects.</summary>
public sealed record Paths
{
    /// <summary>Level of the direct arrival against an omnidirectional source; 0 leaves it out.</summary>
    public double Direct { get; init; } = 1;
    /// <summary>The seabed's own echo.</summary>
    public bool Seabed { get; init; } = true;
    /// <summary>Reflection coefficient of the vehicle's underside, for seabed–vehicle–seabed; 0 leaves it out.</summary>
    public double Vehicle { get; init; }
    /// <summary>Reflection coefficient of the water surface as the survey's wavelengths see it (−1 when calm); 0 leaves its ghosts out.</summary>
    public double Surface { get; init; }
}
