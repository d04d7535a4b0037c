namespace Undersand;

/// <summary>An angle; files speak degrees, mathematics radians.</summary>
/// <param name="Radians">The angle in radians.</param>
public readonly record struct Angle(double Radians)
{
    /// <summary>The angle in degrees.</summary>
    public double Degrees => Radians * (180 / Math.PI);

    /// <summary>An angle given in degrees.</summary>
    public static Angle FromDegrees(double degrees) => new(degrees * (Math.PI / 180));
}
