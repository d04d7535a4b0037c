using System.Text.Json;
using Microsoft.Data.Sqlite;
using Undersand.Runs.Reporting;
using Undersand.Runs.Tests.Reporting;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.Geo;
using Undersand.Storage.GeoPackage;

namespace Undersand.Runs.Tests.Storage.GeoPackage;

public sealed class SurveyGeoPackageTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    private string Written => _folder["survey.gpkg"];

    public SurveyGeoPackageTests() => SurveyGeoPackage.Write(Written, Results.Small());

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Gdals_validator_finds_nothing()
    {
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo import gdal, ogr
            gdal.UseExceptions(); ogr.UseExceptions()
            from osgeo_utils.samples import validate_gpkg as v
            v.check(sys.argv[1], extra_checks=True, warning_msg=True)
            print('nothing')
            """, "osgeo", Written);
        Assert.Equal("nothing", said.Trim());
    }

    [Fact]
    public void A_survey_without_targets_or_cautions_passes_too()
    {
        SurveyResult bare = Results.Small() with { Targets = [], Cautions = [], Steps = [], CouldHaveSeen = Results.Map(5, 5, (x, y) => float.NaN) };
        SurveyGeoPackage.Write(_folder["bare.gpkg"], bare);
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo_utils.samples import validate_gpkg as v
            v.check(sys.argv[1], extra_checks=True, warning_msg=True)
            print('nothing')
            """, "osgeo", _folder["bare.gpkg"]);
        Assert.Equal("nothing", said.Trim());
    }

    [Fact]
    public void The_tables_of_targets_are_the_same_from_what_was_computed_and_from_what_is_read_back()
    {
        SurveyResult made = ReportScenes.Full();
        SurveyGeoPackage.Write(_folder["full.gpkg"], made);
        Assert.Equal(Cells(made with { Targets = [.. TargetField.Ordered(made.Targets)] }), Cells(made with { Targets = SurveyGeoPackageReader.Read(_folder["full.gpkg"]).Targets }));

        static IEnumerable<string> Cells(SurveyResult result) => TargetTables.Blocks(result).OfType<Table>().SelectMany(t => t.Rows).SelectMany(r => r);
    }

    [Fact]
    public void The_metadata_says_what_is_calibrated_and_what_is_not()
    {
        using var file = new SqliteConnection($"Data Source={Written};Mode=ReadOnly;Pooling=False");
        file.Open();
        using SqliteCommand command = file.CreateCommand();
        command.CommandText = "SELECT metadata FROM gpkg_metadata ORDER BY id LIMIT 1";
        using JsonDocument document = JsonDocument.Parse((string)command.ExecuteScalar()!);
        var facts = document.RootElement.GetProperty("additionalProperty").EnumerateArray().ToDictionary(f => f.GetProperty("name").GetString()!, f => f.GetProperty("value").GetRawText());
        Assert.Equal(("false", "false", false), (facts["probabilities_calibrated"], facts["amplitudes_calibrated"], facts.ContainsKey("calibrated")));
    }

    [Fact]
    public void Magnetics_and_outcomes_are_layers_where_they_were_given_and_come_back()
    {
        SurveyResult given = Results.Small() with
        {
            Magnetics = [new(new(NodaTime.Instant.FromUtc(2026, 5, 4, 9, 0), new GridPoint(500001.5, 5760990.25, 4.5), 49012.5), 1, 49000.25), new(new(NodaTime.Instant.FromUtc(2026, 5, 4, 9, 1), new GridPoint(500002, 5760991, 4), 48990), 2, 49000)],
            Outcomes = [new(500003, 5760992, 1.5, 0.8, OutcomeKind.Nothing, "", "sand, “only”"), new(500004, 5760993, 0.5, 1.2, OutcomeKind.Object, "iron", "")],
        };
        SurveyGeoPackage.Write(_folder["given.gpkg"], given);
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo_utils.samples import validate_gpkg as v
            v.check(sys.argv[1], extra_checks=True, warning_msg=True)
            print('nothing')
            """, "osgeo", _folder["given.gpkg"]);
        Assert.Equal("nothing", said.Trim());
        string magnetics = OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", _folder["given.gpkg"], "magnetics"), outcomes = OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", _folder["given.gpkg"], "outcomes");
        Assert.Contains("residual_nt (Real) = 12.25", magnetics);
        Assert.Contains("outcome (String) = nothing", outcomes);
        SurveyContents back = SurveyGeoPackageReader.Read(_folder["given.gpkg"]);
        Assert.Equal(given.Magnetics, back.Magnetics);
        Assert.Equal(given.Outcomes, back.Outcomes);
        SurveyContents bare = SurveyGeoPackageReader.Read(Written);
        Assert.Empty(bare.Magnetics);
        Assert.Empty(bare.Outcomes);
        Assert.Empty(Query("SELECT 1 FROM gpkg_contents WHERE table_name IN ('magnetics', 'outcomes')"));
    }

    // Checks FO-18 and FO-19, GeoPackage 1.3 requirements 2, 10, 11, 13 and 21.
    [Fact]
    public void Header_and_tables_are_those_of_the_standard()
    {
        byte[] file = File.ReadAllBytes(Written);
        Assert.Equal("GPKG"u8.ToArray(), file[68..72]);
        Assert.Equal(1196444487L, Query("PRAGMA application_id")[0]);
        Assert.Equal(10300L, Query("PRAGMA user_version")[0]);
        foreach (string table in new[] { "gpkg_spatial_ref_sys", "gpkg_contents", "gpkg_geometry_columns" })
            Assert.Equal(1L, Query($"SELECT count(*) FROM sqlite_master WHERE type='table' AND name='{table}'")[0]);
        Assert.Equal([-1L, 0L, 4326L, 32631L], Query("SELECT srs_id FROM gpkg_spatial_ref_sys ORDER BY srs_id"));
        // Bytes 18 and 19 of the header are 1 unless the file is in write-ahead mode (SQLite file format, 1.3.2).
        Assert.Equal([1, 1], file[18..20]);
        Assert.Equal(0L, Query("PRAGMA freelist_count")[0]);
    }

    // Check FO-21: the blob that ogr2ogr (GDAL 3.6.2) writes.
    [Fact]
    public void A_point_is_written_as_others_write_it() => Assert.Equal(
        "47500001777F000001010000000000000080841E4100000000FAF95541",
        Convert.ToHexString(GeometryBlob.Point(32631, 500000, 5761000).ToArray()));

    [Fact]
    public void Ogrinfo_finds_every_layer_with_its_features_and_reference_system()
    {
        var expected = new Dictionary<string, (string Type, int Count)>
        {
            ["lines"] = ("Line String", 3), ["pings"] = ("Point", 81), ["seabed"] = ("Point", 1520), ["targets"] = ("Point", 3), ["target_ellipses"] = ("Polygon", 3), ["coverage"] = ("Polygon", 4),
        };
        foreach (var (layer, (type, count)) in expected)
        {
            string said = OutsideReader.RunTool("ogrinfo", "gdal-bin", "-so", "-ro", Written, layer);
            Assert.Contains("Geometry: " + type, said);
            Assert.Contains($"Feature Count: {count}\n", said);
            Assert.Contains("ID[\"EPSG\",32631]", said);
        }
    }

    [Fact]
    public void Targets_carry_the_contracts_properties()
    {
        using JsonDocument read = JsonDocument.Parse(OutsideReader.RunPython(
            """
            import json, sys
            from osgeo import ogr
            d = ogr.Open(sys.argv[1]); l = d.GetLayer('targets')
            f = l.GetNextFeature()
            out = {f.GetFieldDefnRef(i).GetName(): f.GetField(i) for i in range(f.GetFieldCount())}
            out['_x'] = f.GetGeometryRef().GetX()
            print(json.dumps(out))
            """, "osgeo", Written));
        JsonElement r = read.RootElement;
        Assert.Equal("T1", r.GetProperty("id").GetString());
        Assert.Equal(500012.34567, r.GetProperty("easting_m").GetDouble());
        Assert.Equal(500012.346, r.GetProperty("_x").GetDouble());
        Assert.Equal(0.7315, r.GetProperty("burial_depth_m").GetDouble(), 1e-9);
        Assert.Equal(JsonValueKind.Null, r.GetProperty("target_strength_db").ValueKind);
        Assert.Equal(JsonValueKind.Null, r.GetProperty("alternative_easting_m").ValueKind);
        Assert.Equal("iron", r.GetProperty("material").GetString());
        Assert.Equal("=seen once; at the edge", r.GetProperty("notes").GetString());
        Assert.Equal(2, r.GetProperty("lines_seen").GetInt32());
    }

    [Fact]
    public void An_ellipse_has_its_axes_and_its_direction()
    {
        string said = OutsideReader.RunPython(
            """
            import math, sys
            from osgeo import ogr
            d = ogr.Open(sys.argv[1]); f = d.GetLayer('target_ellipses').GetNextFeature(); g = f.GetGeometryRef(); r = g.GetGeometryRef(0)
            x, y = 500012.34567, 5760990.98765
            far = max(((r.GetX(i) - x, r.GetY(i) - y) for i in range(r.GetPointCount())), key=lambda p: math.hypot(*p))
            near = min(math.hypot(r.GetX(i) - x, r.GetY(i) - y) for i in range(r.GetPointCount()))
            print(round(math.hypot(*far), 6), round(near, 6), round(math.degrees(math.atan2(far[0], far[1])) % 180, 3), g.IsValid(), sum(r.GetX(i) * r.GetY(i + 1) - r.GetX(i + 1) * r.GetY(i) for i in range(r.GetPointCount() - 1)) > 0)
            """, "osgeo", Written);
        Assert.Equal("0.055 0.02 30.0 True True", said.Trim());
    }

    [Fact]
    public void Coverage_is_made_of_valid_polygons_with_the_right_areas()
    {
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo import ogr
            d = ogr.Open(sys.argv[1])
            for f in d.GetLayer('coverage'):
                g = f.GetGeometryRef()
                print(f['seen_from_m'], f['seen_to_m'], f['area_m2'], round(g.Area(), 3), g.GetGeometryCount(), g.IsValid())
            """, "osgeo", Written);
        // Cells of 0.5 m: two halves of a plate around a hole, an island in it, a square that touches the plate's corner.
        Assert.Equal(
            """
            1.0 1.5 50.0 50.0 1 True
            0.5 1.0 81.25 81.25 1 True
            2.0 2.5 2.25 2.25 1 True
            1.0 1.5 2.25 2.25 1 True
            """.ReplaceLineEndings("\n"), said.Trim());
    }

    [Fact]
    public void The_index_finds_what_lies_in_a_rectangle()
    {
        var found = Query("SELECT count(*) FROM rtree_pings_geom WHERE minx >= 500001.9 AND maxx <= 500003.1 AND miny > 5760984 AND maxy < 5760986");
        var direct = Results.Small().Lines.SelectMany(l => l.Pings).Count(p => p.Source.Easting is >= 501.9 + 499500 and <= 503.1 + 499500 && p.Source.Northing is > 5760984 and < 5760986);
        Assert.Equal((long)direct, found[0]);
        Assert.InRange(direct, 3, 10);
    }

    [Fact]
    public void Gdal_can_edit_it_and_the_index_follows()
    {
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo import ogr
            d = ogr.Open(sys.argv[1], 1); l = d.GetLayer('pings')
            f = l.GetFeature(1); f.SetGeometry(ogr.CreateGeometryFromWkt('POINT (1 2)')); l.SetFeature(f)
            d = None
            d = ogr.Open(sys.argv[1]); l = d.GetLayer('pings'); l.SetSpatialFilterRect(0, 0, 3, 3); print(l.GetFeatureCount())
            """, "osgeo", Written);
        Assert.Equal("1", said.Trim());
    }

    [Fact]
    public void The_same_result_twice_gives_the_same_bytes()
    {
        SurveyGeoPackage.Write(_folder["again.gpkg"], Results.Small());
        Assert.Equal(File.ReadAllBytes(Written), File.ReadAllBytes(_folder["again.gpkg"]));
        Assert.DoesNotContain(Directory.GetFiles(_folder.Path), f => f.EndsWith(".tmp", StringComparison.Ordinal) || f.Contains("journal"));
    }

    [Fact]
    public void One_of_another_version_is_refused_in_one_sentence()
    {
        using (var file = new SqliteConnection($"Data Source={Written};Pooling=False"))
        {
            file.Open();
            using SqliteCommand command = file.CreateCommand();
            command.CommandText = "ALTER TABLE targets DROP COLUMN top_depth_m";
            command.ExecuteNonQuery();
        }
        string said = Assert.Throws<SurveyException>(() => SurveyGeoPackageReader.Read(Written)).Message;
        Assert.Contains("another version of Undersand wrote it, without top_depth_m", said);
        Assert.DoesNotContain('\n', said);
    }

    [Fact]
    public void A_place_that_takes_no_database_is_said_in_one_sentence()
    {
        File.WriteAllText(_folder["file"], "");
        Assert.Throws<SurveyException>(() => SurveyGeoPackage.Write(_folder["file/survey.gpkg"], Results.Small()));
        if (Directory.Exists("/proc/self"))
            Assert.Throws<SurveyException>(() => SurveyGeoPackage.Write("/proc/self/survey.gpkg", Results.Small()));
    }

    [Fact]
    public void A_folder_in_the_way_is_said_in_one_sentence()
    {
        Directory.CreateDirectory(_folder["survey2.gpkg.tmp"]);
        var e = Assert.Throws<SurveyException>(() => SurveyGeoPackage.Write(_folder["survey2.gpkg"], Results.Small()));
        Assert.Contains("survey2.gpkg", e.Message);
    }

    private List<object> Query(string sql)
    {
        using var connection = new SqliteConnection($"Data Source={Written};Mode=ReadOnly;Pooling=False");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        using SqliteDataReader reader = command.ExecuteReader();
        var values = new List<object>();
        while (reader.Read())
            values.Add(reader.GetValue(0));
        return values;
    }
}
