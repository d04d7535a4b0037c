using Undersand.Imaging.Conditioning;

namespace Undersand.Imaging;

/// <summary>How the image is made. What is undone is undone so that amplitude means reflectivity; each can be switched off, and the report says which was.</summary>
public sealed record ImagingSettings
{
    /// <summary>How recordings are made ready.</summary>
    public ConditioningSettings Conditioning { get; init; } = new();

    /// <summary>Greatest angle of either leg from the vertical, in the water.</summary>
    public Angle MaxAngle { get; init; } = Angle.FromDegrees(38);

    /// <summary>Disjoint groups that a line's aperture is cut into along the track.</summary>
    public int Groups { get; init; } = 3;

    /// <summary>Whether the spreading of the rays is undone.</summary>
    public bool UndoSpreading { get; init; } = true;

    /// <summary>Whether the absorption in water and sediment is undone.</summary>
    public bool UndoAbsorption { get; init; } = true;

    /// <summary>Whether the loss on passing the seabed, down and up, is undone.</summary>
    public bool UndoTransmission { get; init; } = true;

    /// <summary>Most bytes of conditioned recordings kept at hand.</summary>
    public long CacheBytes { get; init; } = 600L << 20;

    /// <summary>Whether the plain engine is used instead of the vector one.</summary>
    public bool PlainEngine { get; init; }
}
