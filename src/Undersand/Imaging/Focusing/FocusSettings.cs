namespace Undersand.Imaging.Focusing;

/// <summary>How the traces are summed.</summary>
/// <param name="WaterSoundSpeed">c₁, m/s.</param>
/// <param name="SedimentSoundSpeed">c₂, m/s.</param>
public sealed record FocusSettings(double WaterSoundSpeed, double SedimentSoundSpeed)
{
    /// <summary>
    /// Greatest angle of either leg from the seabed's normal, in the water. 38° keeps clear of the critical angle of coarse sand (53° at a speed
    /// ratio of 1.25), where amplitudes and times turn unreliable; common practice, no source.
    /// </summary>
    public Angle MaxAngle { get; init; } = Angle.FromDegrees(38);

    /// <summary>Over this angle inside <see cref="MaxAngle"/> the weight rises from 0 to 1.</summary>
    public Angle Taper { get; init; } = Angle.FromDegrees(6);

    /// <summary>Where the sediment is faster, the aperture ends at least this far before the critical angle.</summary>
    public Angle CriticalMargin { get; init; } = Angle.FromDegrees(4);

    /// <summary>Into how many disjoint groups the aperture is cut along the track, from astern to ahead.</summary>
    public int Groups { get; init; } = 3;

    /// <summary>The groups are of equal extent along the track for a voxel at this burial, metres.</summary>
    public double GroupBurial { get; init; } = 1.0;

    /// <summary>
    /// Greatest error that the vector engine's path times may have against exact rays, in samples; checked over the aperture before each tile. At the default
    /// the images differ by about 10⁻⁴ (−80 dB) from the plain engine's. Single precision ends at about 10⁻⁴ samples,
    /// heights below 0.3 m at about 2·10⁻³; where even ten times the tolerance can't be held, exact rays take over.
    /// </summary>
    public double PathTolerance { get; init; } = 1e-3;

    /// <summary>Which engine does it.</summary>
    public FocusEngine Engine { get; init; } = FocusEngine.Vector;
}
