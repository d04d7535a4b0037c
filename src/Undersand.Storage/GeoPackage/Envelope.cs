namespace Undersand.Storage.GeoPackage;

/// <summary>The rectangle around something.</summary>
internal readonly record struct Envelope(double MinX, double MinY, double MaxX, double MaxY)
{
    public static Envelope Of(IReadOnlyList<(double X, double Y)> points) =>
        new(points.Min(p => p.X), points.Min(p => p.Y), points.Max(p => p.X), points.Max(p => p.Y));

    public Envelope With(Envelope other) =>
        new(Math.Min(MinX, other.MinX), Math.Min(MinY, other.MinY), Math.Max(MaxX, other.MaxX), Math.Max(MaxY, other.MaxY));
}
