namespace Undersand.Simulation;

/// <summary>A steady tone: pumps, power supplies.</summary>
/// <param name="Frequency">Hertz.</param>
/// <param name="Pressure">Peak, Pa.</param>
public sealed record SteadyTone(double Frequency, double Pressure);
