namespace Undersand.Storage.GeoPackage;

/// <summary>What the survey's folder gave besides recordings: magnetics and outcomes. A layer without rows isn't written.</summary>
internal static class GivenLayers
{
    private static readonly TableDefinition Magnetics = new("magnetics", "Magnetometer readings, and by how much each stands out of the running median along its line.",
    [
        new("time_utc", "DATETIME", "time of the reading, UTC"),
        Column.Integer("line", "stretch of unbroken readings, from 1"),
        Column.Real("depth_m", "depth of the sensor below the water surface, m"),
        Column.Real("total_field_nt", "total field, nT"),
        Column.Real("median_nt", "running median of the total field over 30 m of track to either side, nT"),
        Column.Real("residual_nt", "total field less the running median, nT"),
    ]);

    private static readonly TableDefinition Outcomes = new("outcomes", "What was found where someone looked. An empty hole says nothing about what lies below it.",
    [
        Column.Real("radius_m", "how far around was looked, m"),
        Column.Real("reached_depth_m", "burial depth that was reached, m"),
        Column.Text("outcome", "object, nothing or natural"),
        Column.Text("material", "in the finder's words"),
        Column.Text("note", "in the finder's words"),
    ]);

    public static void AddTo(GeoPackageFile file, SurveyResult result)
    {
        if (result.Magnetics.Count > 0)
            file.AddFeatures(Magnetics, "POINT", result.Magnetics, m => GeometryBlob.Point(file.SrsId, m.Reading.Position), Values);
        if (result.Outcomes.Count > 0)
            file.AddFeatures(Outcomes, "POINT", result.Outcomes, o => GeometryBlob.Point(file.SrsId, o.Place),
                o => [o.Radius, o.ReachedDepth, o.Kind.ToString().ToLowerInvariant(), o.Material, o.Note]);
    }

    private static object?[] Values(MagneticPoint m) =>
    [
        GeoPackageSql.Time.Format(m.Reading.Time), m.Line, Math.Round(m.Reading.Position.Depth, 3), Math.Round(m.Reading.TotalFieldNanotesla, 3), Math.Round(m.MedianNanotesla, 3), Math.Round(m.ResidualNanotesla, 3),
    ];
}
