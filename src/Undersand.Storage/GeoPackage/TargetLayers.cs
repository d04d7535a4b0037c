using System.Globalization;
using Undersand.Storage.Geo;

namespace Undersand.Storage.GeoPackage;

/// <summary>The targets: a point each with all its properties, and its one-sigma ellipse.</summary>
internal static class TargetLayers
{
    private const int EllipseCorners = 72;

    public static void AddTo(GeoPackageFile file, SurveyResult result)
    {
        IReadOnlyList<Target> targets = [.. TargetField.Ordered(result.Targets)];
        IReadOnlyList<TargetField> fields = TargetField.All;
        file.AddFeatures(
            new("targets", "Targets, most probable first: places to look, not permissions to dig.", [.. fields.Select(f => new Column(f.Name, Type(f.Kind), f.Meaning))]),
            "POINT", targets,
            t => GeometryBlob.Point(file.SrsId, t.Position),
            t => [.. fields.Select(f => f.Exact is { } exact ? exact(t) : Value(f.Kind, f.Value(t)))]);
        file.AddFeatures(
            new("target_ellipses", "One-sigma ellipses of the targets' horizontal positions.", [Column.Text("id", "whose"), Column.Real("probability", "that a compact body is there")]),
            "POLYGON", targets, t => Ellipse(file.SrsId, t), t => [t.Id, ResultNumber.Exact(t.Probability)]);
    }

    private static string Type(FieldKind kind) => kind switch
    {
        FieldKind.Real => "REAL",
        FieldKind.Integer => "INTEGER",
        _ => "TEXT",
    };

    private static object? Value(FieldKind kind, string? text) => kind switch
    {
        _ when text is null => null,
        FieldKind.Integer => long.Parse(text, CultureInfo.InvariantCulture),
        FieldKind.Sentences => text.Replace("\n", "; "),
        _ => text,
    };

    // Anticlockwise. An ellipse without extent is no polygon.
    private static GeometryBlob? Ellipse(int srsId, Target target)
    {
        double major = target.EllipseMajor, minor = target.EllipseMinor, azimuth = target.EllipseAzimuth.Radians;
        if (!(major > 0 && minor > 0) || !double.IsFinite(major + minor + azimuth))
            return null;
        var ring = new (double X, double Y)[EllipseCorners + 1];
        for (int i = 0; i < EllipseCorners; i++)
        {
            var (sin, cos) = Math.SinCos(-2 * Math.PI * i / EllipseCorners);
            double along = major * cos, across = minor * sin;
            ring[i] = (target.Position.Easting + along * Math.Sin(azimuth) + across * Math.Cos(azimuth),
                target.Position.Northing + along * Math.Cos(azimuth) - across * Math.Sin(azimuth));
        }

        ring[EllipseCorners] = ring[0];
        return GeometryBlob.Polygon(srsId, [ring]);
    }
}
