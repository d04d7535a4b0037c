namespace Undersand.Acoustics;

/// <summary>A kind of sediment as a table gives it: ratios to the water above it, so that it can be put under any water.</summary>
/// <param name="Name">“fine sand”.</param>
/// <param name="Table">The table it is from.</param>
/// <param name="DensityRatio">Its density over the water's.</param>
/// <param name="SpeedRatio">Its sound speed over the water's.</param>
/// <param name="AttenuationDbPerMetrePerKhz">Attenuation, linear in frequency.</param>
/// <param name="Mark">Where the values come from: S read in a public source, M from memory, L computed.</param>
/// <param name="Aliases">Other names.</param>
public sealed record SedimentRow(
    string Name,
    SedimentTableKind Table,
    double DensityRatio,
    double SpeedRatio,
    double AttenuationDbPerMetrePerKhz,
    string Mark,
    IReadOnlyList<string> Aliases)
{
    /// <summary>Its name with the table's: “fine sand (Hamilton and Bachman 1982)”.</summary>
    public string FullName => Table switch
    {
        SedimentTableKind.Surficial => $"{Name} (APL-UW TR 9407)",
        SedimentTableKind.Jensen => $"{Name} (Jensen et al., table 1.3)",
        _ => $"{Name} (Hamilton and Bachman 1982)",
    };

    /// <summary>Reflection coefficient at normal incidence without loss, (rν−1)/(rν+1).</summary>
    public double NormalReflection => (DensityRatio * SpeedRatio - 1) / (DensityRatio * SpeedRatio + 1);

    /// <summary>This sediment under this water; its name tells the table.</summary>
    /// <param name="water">The water above.</param>
    public Sediment Under(Water water) =>
        new(SpeedRatio * water.SoundSpeed, DensityRatio * water.Density, AttenuationDbPerMetrePerKhz, FullName);
}
