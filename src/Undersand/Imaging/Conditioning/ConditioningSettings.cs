using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>How recordings are made ready for summation. Lengths in metres, times in seconds.</summary>
public sealed record ConditioningSettings
{
    /// <summary>How pulses are shaped.</summary>
    public CompressionSettings Compression { get; init; } = new();

    /// <summary>A receiver this far below the median of its ping, line-wide, is dead, dB.</summary>
    public double DeadReceiverDb { get; init; } = 26;

    /// <summary>A trace this far below its receiver's own median is a drop-out, dB.</summary>
    public double DropOutDb { get; init; } = 20;

    /// <summary>A trace with more than this fraction of its samples at the recording's limit is left out.</summary>
    public double ClippedFraction { get; init; } = 0.02;

    /// <summary>A ping whose short-time energy exceeds that of all its neighbours by this much somewhere carries a burst and is left out, dB.</summary>
    public double BurstDb { get; init; } = 10;

    /// <summary>A spectral line this far above its surroundings, averaged over the line, is a tone and is removed, dB.</summary>
    public double ToneDb { get; init; } = 15;

    /// <summary>Weakest echo that counts as the seabed's, dB over noise.</summary>
    public double SeabedSnrDb { get; init; } = 9;

    /// <summary>The part of the seabed's echo that is modelled and subtracted ends at this burial (its taper begins at ¾ of it).</summary>
    public double TemplateBurial { get; init; } = 0.6;

    /// <summary>The model is the median over pings this far to both sides: longer than any object, so that objects survive.</summary>
    public double TemplateReach { get; init; } = 2.5;

    /// <summary>Pings over less track than this can't tell the seabed's echo from an object's; there the pulse's own shape is subtracted instead.</summary>
    public double LeastTemplateTrack { get; init; } = 3;

    /// <summary>Whether the seabed's echo is subtracted.</summary>
    public bool SubtractSeabed { get; init; } = true;

    /// <summary>Whether echoes that return by way of the vehicle or the sea surface are subtracted where their time is known.</summary>
    public bool SubtractReturns { get; init; } = true;
}
