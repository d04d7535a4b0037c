namespace Undersand;

/// <summary>A place where a compact body probably lies, with what was measured of it. Null is “not known” or “not resolved”.</summary>
public sealed record Target
{
    /// <summary>Stable within the survey: the same thing keeps it when the survey is processed again.</summary>
    public required string Id { get; init; }
    /// <summary>Centre; the depth is that of the top, below the water surface.</summary>
    public required GridPoint Position { get; init; }
    /// <summary>One standard deviation of the horizontal position (root mean square of the ellipse's axes), metres.</summary>
    public required double HorizontalSd { get; init; }
    /// <summary>Half the long axis of the one-sigma ellipse, metres.</summary>
    public required double EllipseMajor { get; init; }
    /// <summary>Half the short axis of the one-sigma ellipse, metres.</summary>
    public required double EllipseMinor { get; init; }
    /// <summary>Azimuth of its long axis, clockwise from grid north.</summary>
    public required Angle EllipseAzimuth { get; init; }
    /// <summary>The other place where the same echo could lie, or null.</summary>
    public GridPoint? Alternative { get; init; }
    /// <summary>Burial of the top below the seabed smoothed over 0.5 m, metres.</summary>
    public required Estimate BurialDepth { get; init; }
    /// <summary>Full length, blur taken out, metres.</summary>
    public double? Length { get; init; }
    /// <summary>Full width, metres.</summary>
    public double? Width { get; init; }
    /// <summary>Full thickness, metres.</summary>
    public double? Thickness { get; init; }
    /// <summary>Azimuth of the long axis, clockwise from grid north, 0–180°.</summary>
    public Angle? Azimuth { get; init; }
    /// <summary>Full width of its outline as drawn, metres: where the width isn't resolved, none for a body with a long axis, which makes it a line, and the length for one without.</summary>
    public double OutlineWidth => Width ?? (Azimuth is null ? Length : null) ?? 0;
    /// <summary>That a compact body is there.</summary>
    public required Probability Probability { get; init; }
    /// <summary>Natural logarithm of the Bayes factor against “nothing here”.</summary>
    public required double LogBayesFactor { get; init; }
    /// <summary>Target strength, dB re 1 m²; null where not calibrated.</summary>
    public double? TargetStrengthDb { get; init; }
    /// <summary>Signed, at the top surface; null where not calibrated or not resolved.</summary>
    public double? ReflectionCoefficient { get; init; }
    /// <summary>Signed ratio to the seabed's own reflection here, or null.</summary>
    public double? ReflectionRelativeToSeabed { get; init; }
    /// <summary>The classes and their probabilities, which sum to 1.</summary>
    public required IReadOnlyDictionary<Material, double> MaterialProbabilities { get; init; }
    /// <summary>The most probable class.</summary>
    public Material Material => MaterialProbabilities.MaxBy(m => m.Value).Key;
    /// <summary>Survey lines that support it.</summary>
    public required int LinesSeen { get; init; }
    /// <summary>Independent looks that support it.</summary>
    public required int Looks { get; init; }
    /// <summary>Reservations about this target, each a sentence (“at the burial where the seabed's echo to the vehicle returns”).</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}
