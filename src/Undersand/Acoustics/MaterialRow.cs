namespace Undersand.Acoustics;

/// <summary>A solid, wood or gas that a buried thing may be made of.</summary>
/// <param name="Name">Name in the table.</param>
/// <param name="Class">The class that targets are sorted into.</param>
/// <param name="Density">kg/m³.</param>
/// <param name="CompressionalSpeed">m/s.</param>
/// <param name="ShearSpeed">m/s; null where it carries none or none is known.</param>
/// <param name="Marks">Where density, compressional and shear speed come from: S read in a public source, M from memory.</param>
/// <param name="Note">Range, or what to beware of; empty if nothing.</param>
public sealed record MaterialRow(string Name, Material Class, double Density, double CompressionalSpeed, double? ShearSpeed, string Marks, string Note = "")
{
    /// <summary>Reflection coefficient of a half-space of it at normal incidence; small bodies do not reach it.</summary>
    /// <param name="mediumDensity">kg/m³ of what surrounds it.</param>
    /// <param name="mediumSoundSpeed">m/s of what surrounds it.</param>
    public double NormalReflection(double mediumDensity, double mediumSoundSpeed) =>
        PlaneInterface.NormalReflection(mediumDensity, mediumSoundSpeed, Density, CompressionalSpeed);
}
