namespace Undersand;

/// <summary>The sediment, as a fluid half-space.</summary>
/// <param name="SoundSpeed">m/s.</param>
/// <param name="Density">kg/m³.</param>
/// <param name="AttenuationDbPerMetrePerKhz">Attenuation, linear in frequency.</param>
/// <param name="Name">What it is called in the table it came from, or “as given”.</param>
public sealed record Sediment(double SoundSpeed, double Density, double AttenuationDbPerMetrePerKhz, string Name = "as given");
