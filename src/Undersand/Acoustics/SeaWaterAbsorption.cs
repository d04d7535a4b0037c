namespace Undersand.Acoustics;

/// <summary>Absorption in sea water by its causes, dB/km each.</summary>
/// <param name="BoricAcid">Relaxation of boric acid.</param>
/// <param name="MagnesiumSulphate">Relaxation of magnesium sulphate.</param>
/// <param name="PureWater">Viscosity of the water.</param>
public readonly record struct SeaWaterAbsorption(double BoricAcid, double MagnesiumSulphate, double PureWater);
