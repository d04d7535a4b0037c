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
