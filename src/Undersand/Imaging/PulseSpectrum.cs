namespace Undersand.Imaging;

/// <summary>Spectrum of a line's compressed pulse.</summary>
/// <param name="LowFrequency">Lower edge, hertz.</param>
/// <param name="HighFrequency">Upper edge, hertz.</param>
/// <param name="WeightAt">Relative amplitude at a frequency.</param>
public sealed record PulseSpectrum(double LowFrequency, double HighFrequency, Func<double, double> WeightAt);
