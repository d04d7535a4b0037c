namespace Undersand;

/// <summary>The water the sound goes through.</summary>
/// <param name="SoundSpeed">m/s.</param>
/// <param name="Density">kg/m³.</param>
/// <param name="Temperature">°C, for absorption.</param>
/// <param name="Salinity">Practical salinity, for absorption.</param>
public sealed record Water(double SoundSpeed, double Density = 1025, double Temperature = 10, double Salinity = 35);
