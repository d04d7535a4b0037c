using Microsoft.Data.Sqlite;
using Undersand.Positioning;

namespace Undersand.Storage.GeoPackage;

/// <summary>What holds now, as layers of <c>judgements.gpkg</c> for any GIS. They are made anew with each act; only <c>acts</c> counts.</summary>
internal static class JudgementLayers
{
    private static readonly (string Name, string Geometry, string Description, string Columns)[] _layers =
    [
        ("judgements", "POINT", "What people make of the targets now.", "target_id TEXT NOT NULL UNIQUE, verdict TEXT, priority INTEGER, note TEXT NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL"),
        ("hand_outlines", "POLYGON", "Outlines of targets as people see them.", "target_id TEXT NOT NULL, area_m2 REAL NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL"),
        ("hand_measures", "POINT", "Measures of targets as people took them.", "target_id TEXT NOT NULL, length_m REAL, width_m REAL, thickness_m REAL, burial_m REAL, source TEXT NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL"),
        ("mergers", "LINESTRING", "Targets that people take for one thing: a line through them.", "target_id TEXT NOT NULL, others TEXT NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL"),
        ("parts", "POINT", "Parts of targets that people take for several things.", "target_id TEXT NOT NULL, part INTEGER NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL"),
        ("photographs", "POINT", "Photographs of targets; the path is relative to this file.", "target_id TEXT NOT NULL, path TEXT NOT NULL, caption TEXT NOT NULL, public INTEGER NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL"),
    ];

    /// <summary>Adds what is missing, so that a file of an earlier version becomes one of this.</summary>
    public static void Make(SqliteConnection file, SqliteTransaction? transaction, ProjectedCrs crs)
    {
        foreach (var (name, geometry, description, columns) in _layers)
        {
            GeoPackageSql.Execute(file, transaction, $"CREATE TABLE IF NOT EXISTS {name} (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom {geometry}, {columns})");
            GeoPackageSql.Execute(file, transaction, "INSERT OR IGNORE INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES ($p0, 'features', $p0, $p1, $p2)", name, description, crs.Epsg);
            GeoPackageSql.Execute(file, transaction, "INSERT OR IGNORE INTO gpkg_geometry_columns VALUES ($p0, 'geom', $p1, $p2, 0, 0)", name, geometry, crs.Epsg);
        }
    }

    /// <summary>Fills the layers with what holds.</summary>
    /// <param name="file">The open file.</param>
    /// <param name="transaction">The act's.</param>
    /// <param name="srs">Reference system of all places.</param>
    /// <param name="judged">What holds.</param>
    /// <param name="placeOf">Where a target lay when something was last said about it.</param>
    public static void Fill(SqliteConnection file, SqliteTransaction transaction, int srs, JudgedSurvey judged, Func<string, GridPoint?> placeOf)
    {
        foreach (var (name, _, _, _) in _layers)
            GeoPackageSql.Execute(file, transaction, $"DELETE FROM {name}");
        byte[] Point(GridPoint p) => GeometryBlob.Point(srs, p).ToArray();
        void Put(string layer, string columns, byte[]? geometry, Saying said, params object?[] values) =>
            GeoPackageSql.Execute(file, transaction, $"INSERT INTO {layer} (geom, target_id, who, when_utc, {columns}) VALUES ({string.Join(", ", Enumerable.Range(0, values.Length + 4).Select(i => "$p" + i))})",
                [geometry, said.TargetId, said.Who, GeoPackageSql.Time.Format(said.When), .. values]);

        foreach (Judgement j in judged.Current.Values)
            Put("judgements", "verdict, priority, note", Point(j.Place), j, j.Verdict?.ToString().ToLowerInvariant(), j.Priority, j.Note);
        foreach (HandOutline o in judged.All<HandOutline>())
            Put("hand_outlines", "area_m2", GeometryBlob.Polygon(srs, [Ring(o)]).ToArray(), o, o.Area);
        foreach (HandMeasure m in judged.All<HandMeasure>())
            Put("hand_measures", "length_m, width_m, thickness_m, burial_m, source", Point(m.Place), m, m.Length, m.Width, m.Thickness, m.Burial, m.Source);
        foreach (Merger m in judged.All<Merger>())
        {
            (double X, double Y)[] way = [(m.Place.Easting, m.Place.Northing), .. m.Others.Select(placeOf).OfType<GridPoint>().Select(p => (p.Easting, p.Northing))];
            Put("mergers", "others", way.Length > 1 ? GeometryBlob.LineString(srs, way).ToArray() : null, m, string.Join(", ", m.Others));
        }
        foreach (Partition p in judged.All<Partition>())
            foreach (var (i, part) in p.Parts.Index())
                Put("parts", "part", Point(part), p, i + 1);
        foreach (Photograph p in judged.All<Photograph>())
            Put("photographs", "path, caption, public", Point(p.Place), p, PhotographFolder.Name + "/" + p.File, p.Caption, p.IsPublic ? 1 : 0);
    }

    // Closed and anticlockwise, whichever way it was drawn.
    private static (double X, double Y)[] Ring(HandOutline outline)
    {
        (double X, double Y)[] ring = [.. outline.Corners.Select(c => (c.Easting, c.Northing))];
        if (!outline.IsAnticlockwise)
            Array.Reverse(ring);
        return [.. ring, ring[0]];
    }
}
