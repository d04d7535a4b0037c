namespace Undersand.Acoustics;

/// <summary>A homogeneous sphere.</summary>
public sealed record Sphere
{
    private Sphere(SphereKind kind, double radius, double density, double c, double shear)
    {
        if (!(radius > 0 && double.IsFinite(radius)))
            throw new ArgumentOutOfRangeException(nameof(radius), radius, "a sphere's radius is finite and above 0 m");
        (Kind, Radius, Density, CompressionalSpeed, ShearSpeed) = (kind, radius, density, c, shear);
    }

    /// <summary>Rigid, soft, fluid or elastic.</summary>
    public SphereKind Kind { get; }
    /// <summary>Metres: half the diameter.</summary>
    public double Radius { get; }
    /// <summary>kg/m³; 0 for rigid and soft.</summary>
    public double Density { get; }
    /// <summary>m/s; 0 for rigid and soft.</summary>
    public double CompressionalSpeed { get; }
    /// <summary>m/s; 0 unless elastic.</summary>
    public double ShearSpeed { get; }

    /// <summary>Immovable and incompressible.</summary>
    /// <param name="radius">Metres.</param>
    public static Sphere Rigid(double radius) => new(SphereKind.Rigid, radius, 0, 0, 0);

    /// <summary>No pressure at its surface (a vacuum).</summary>
    /// <param name="radius">Metres.</param>
    public static Sphere Soft(double radius) => new(SphereKind.Soft, radius, 0, 0, 0);

    /// <summary>Filled with a fluid.</summary>
    /// <param name="radius">Metres.</param>
    /// <param name="density">kg/m³.</param>
    /// <param name="soundSpeed">m/s.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not above 0.</exception>
    public static Sphere Fluid(double radius, double density, double soundSpeed) =>
        new(SphereKind.Fluid, radius, Positive(density, nameof(density)), Positive(soundSpeed, nameof(soundSpeed)), 0);

    /// <summary>An elastic solid.</summary>
    /// <param name="radius">Metres.</param>
    /// <param name="density">kg/m³.</param>
    /// <param name="compressionalSpeed">m/s.</param>
    /// <param name="shearSpeed">m/s; below √3/2 of the compressional speed, as a positive bulk modulus demands.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not above 0, or the shear speed is impossible.</exception>
    public static Sphere Elastic(double radius, double density, double compressionalSpeed, double shearSpeed)
    {
        if (Positive(shearSpeed, nameof(shearSpeed)) >= Math.Sqrt(0.75) * compressionalSpeed)
            throw new ArgumentOutOfRangeException(nameof(shearSpeed), shearSpeed, "the shear speed of a solid is below √3/2 of its compressional speed");
        return new(SphereKind.Elastic, radius, Positive(density, nameof(density)), Positive(compressionalSpeed, nameof(compressionalSpeed)), shearSpeed);
    }

    /// <summary>Of a material in the built-in table: elastic where it carries shear, else fluid.</summary>
    /// <param name="radius">Metres.</param>
    /// <param name="material">A row of <see cref="MaterialTable"/>.</param>
    public static Sphere Of(double radius, MaterialRow material) => material.ShearSpeed is { } shear
        ? Elastic(radius, material.Density, material.CompressionalSpeed, shear)
        : Fluid(radius, material.Density, material.CompressionalSpeed);

    private static double Positive(double value, string name) => value > 0 && double.IsFinite(value)
        ? value : throw new ArgumentOutOfRangeException(name, value, "densities and speeds are finite and above 0");
}
