namespace Undersand.Simulation;

/// <summary>A piece of sea, as it really is: what a simulated survey is made from. Positions are in the survey's projected reference system.</summary>
public sealed record Scene
{
    /// <summary>The scene's name.</summary>
    public required string Name { get; init; }
    /// <summary>EPSG code of the projected reference system.</summary>
    public int Epsg { get; init; } = 32631;
    /// <summary>The water.</summary>
    public required Water Water { get; init; }
    /// <summary>The sediment, one fluid half-space.</summary>
    public required Sediment Sediment { get; init; }
    /// <summary>The seabed.</summary>
    public required SeabedShape Seabed { get; init; }
    /// <summary>What lies in or on the sediment, decoys included.</summary>
    public IReadOnlyList<SceneObject> Objects { get; init; } = [];
    /// <summary>Reflecting layers within the sediment.</summary>
    public IReadOnlyList<BuriedLayer> Layers { get; init; } = [];
    /// <summary>Clouds of small scatterers without number: gravel, shells, worm tubes.</summary>
    public IReadOnlyList<ClutterCloud> Clutter { get; init; } = [];
    /// <summary>The smallest size that counts as a body, metres.</summary>
    public double SmallestBody { get; init; } = 0.1;
}
