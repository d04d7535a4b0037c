namespace Undersand.Runs;

/// <summary>What <c>process</c> was asked for. Null is “as survey.json says, else the default”.</summary>
/// <param name="Survey">The survey's folder, as the user named it.</param>
/// <param name="Results">The results' folder, as the user named it.</param>
public sealed record ProcessRequest(string Survey, string Results)
{
    /// <summary>The file names of the recordings to read; null for all.</summary>
    public IReadOnlyCollection<string>? Recordings { get; init; }

    /// <summary>Threads; null for all processors.</summary>
    public int? Threads { get; init; }

    /// <summary>Edge of a voxel, metres.</summary>
    public double? Voxel { get; init; }

    /// <summary>Deepest burial imaged, metres.</summary>
    public double? MaxBurial { get; init; }

    /// <summary>The summation kernel: “plain” or “vector”.</summary>
    public string Engine { get; init; } = "vector";

    /// <summary>Losses that are not undone: “spreading”, “absorption”, “transmission”; rising, none twice.</summary>
    public IReadOnlyList<string> Without { get; init; } = [];

    /// <summary>
    /// Whether further lines are soon to come: what lines imaged before say of a tile then stays, where a new line has moved the seabed under it by less than a quarter of a voxel.
    /// Faster, and provisional: the record says so, and a run without this makes it good.
    /// </summary>
    public bool LinesStillCome { get; init; }

    /// <summary>Whether the compressed pulses are whitened.</summary>
    public bool Whiten { get; init; }
}
