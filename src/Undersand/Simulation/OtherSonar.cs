namespace Undersand.Simulation;

/// <summary>Another sonar's bursts.</summary>
/// <param name="Probability">That a ping has one.</param>
/// <param name="Frequency">Hertz.</param>
/// <param name="Duration">Seconds.</param>
/// <param name="Pressure">Peak, Pa.</param>
public sealed record OtherSonar(double Probability, double Frequency, double Duration, double Pressure);
