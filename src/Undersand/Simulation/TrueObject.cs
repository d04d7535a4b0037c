namespace Undersand.Simulation;

/// <summary>One thing that is really there.</summary>
public sealed record TrueObject
{
    /// <summary>What the scene calls it.</summary>
    public required string Name { get; init; }
    /// <summary>Sphere, cylinder, slab, group or point.</summary>
    public required string Shape { get; init; }
    /// <summary>The class it belongs to.</summary>
    public required Material Material { get; init; }
    /// <summary>Its middle.</summary>
    public required GridPoint Centre { get; init; }
    /// <summary>Burial of the top below the seabed smoothed over 0.5 m, metres.</summary>
    public required double BurialOfTop { get; init; }
    /// <summary>Full length, metres.</summary>
    public required double Length { get; init; }
    /// <summary>Full width, metres.</summary>
    public required double Width { get; init; }
    /// <summary>Full thickness, metres.</summary>
    public required double Thickness { get; init; }
    /// <summary>Azimuth of the long axis, or null where there is none.</summary>
    public Angle? Azimuth { get; init; }
    /// <summary>Whether it is a compact body of at least the smallest size.</summary>
    public required bool IsBody { get; init; }
    /// <summary>Whether it is there to deceive.</summary>
    public required bool IsDecoy { get; init; }
}
