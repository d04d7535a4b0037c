namespace Undersand;

/// <summary>What the recordings can't say themselves, with every default already taken.</summary>
public sealed record Survey
{
    /// <summary>The survey's name.</summary>
    public required string Name { get; init; }

    /// <summary>EPSG code of the projected reference system.</summary>
    public required int Epsg { get; init; }

    /// <summary>The water.</summary>
    public required Water Water { get; init; }

    /// <summary>The sediment.</summary>
    public required Sediment Sediment { get; init; }

    /// <summary>The transmitted waveform; null where a replica trace is recorded and nothing else is known.</summary>
    public Waveform? Waveform { get; init; }

    /// <summary>Absolute calibration, or null.</summary>
    public Calibration? Calibration { get; init; }

    /// <summary>What to image.</summary>
    public ImageSettings Image { get; init; } = new();

    /// <summary>What is believed before the survey.</summary>
    public Prior Prior { get; init; } = new();

    /// <summary>The array, where described.</summary>
    public ArrayDescription? Array { get; init; }

    /// <summary>Values that were not given and had to be taken from somewhere.</summary>
    public IReadOnlyList<Assumption> Assumptions { get; init; } = [];

    /// <summary>Flaws met on reading the survey.</summary>
    public IReadOnlyList<Caution> Cautions { get; init; } = [];
}

/// <summary>What to image.</summary>
/// <param name="MaxBurial">Deepest burial, metres.</param>
/// <param name="Voxel">Edge of a voxel, metres.</param>
public sealed record ImageSettings(double MaxBurial = 3.0, double Voxel = 0.05);

/// <summary>What is believed before the survey.</summary>
/// <param name="ObjectsPerHectare">Expected number of compact bodies in a hectare, from the seabed to the deepest burial imaged.</param>
/// <param name="SmallestObject">The smallest size that counts as a body, metres.</param>
public sealed record Prior(double ObjectsPerHectare = 40, double SmallestObject = 0.1);
