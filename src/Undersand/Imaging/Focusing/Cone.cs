namespace Undersand.Imaging.Focusing;

/// <summary>The legs of one angle in the water, refracted into the sediment below level seabed.</summary>
/// <param name="Water">Tangent of the angle in the water.</param>
/// <param name="Sediment">Tangent of the angle in the sediment.</param>
internal readonly record struct Cone(double Water, double Sediment)
{
    private const double LeastHeight = 0.01;

    /// <summary>At an angle in radians, below the critical one.</summary>
    public static Cone At(double angle, double waterSpeed, double sedimentSpeed) =>
        new(Math.Tan(angle), Math.Tan(Math.Asin(Math.Sin(angle) * sedimentSpeed / waterSpeed)));

    /// <summary>The horizontal offset that it has reached at a burial.</summary>
    public double Reach(double height, double burial) => height * Water + burial * Sediment;

    /// <summary>The burial from which a leg of this offset lies inside; never, where the transducer is not above the seabed.</summary>
    public double Opening(double height, double offset) => height > LeastHeight ? (offset - height * Water) / Sediment : double.PositiveInfinity;
}
