namespace Undersand.Simulation;

/// <summary>Point scatterers at random places with random strengths: σ follows a gamma law, so that few to a resolution cell give K-distributed amplitudes.</summary>
/// <param name="DensityPerCubicMetre">Scatterers in a cubic metre; in a square metre where both burials are 0.</param>
/// <param name="MeanCrossSection">Mean backscattering cross-section σ of one, m².</param>
/// <param name="Shape">Shape ν of the gamma law: 1 is exponential, below is spikier.</param>
/// <param name="FromBurial">Metres.</param>
/// <param name="ToBurial">Metres.</param>
public sealed record ClutterCloud(double DensityPerCubicMetre, double MeanCrossSection, double Shape, double FromBurial, double ToBurial);
