namespace Undersand.Simulation;

/// <summary>Sinusoidal ripples.</summary>
/// <param name="Wavelength">Metres from crest to crest.</param>
/// <param name="Height">Metres from trough to crest.</param>
/// <param name="Azimuth">Direction across the crests, clockwise from grid north.</param>
/// <param name="Phase">At the seabed's reference place.</param>
public sealed record Ripple(double Wavelength, double Height, Angle Azimuth, Angle Phase = default);
