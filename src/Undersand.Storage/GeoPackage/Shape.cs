namespace Undersand.Storage.GeoPackage;

/// <summary>A point, a line or the ring of a polygon.</summary>
/// <param name="IsRing">Whether it is closed around an area.</param>
/// <param name="Points">One for a point.</param>
public sealed record Shape(bool IsRing, IReadOnlyList<(double X, double Y)> Points);
