using System.Text.Json;
using CsCheck;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.Geo;

namespace Undersand.Runs.Tests.Storage.Geo;

public sealed class TargetFilesTests : IDisposable
{
    // docs: contract, RESULTS, the properties of a feature in their order; then our own two.
    private static readonly string[] Contract =
    [
        "id", "easting_m", "northing_m", "horizontal_sd_m", "ellipse_major_m", "ellipse_minor_m", "ellipse_azimuth_deg", "alternative_easting_m", "alternative_northing_m",
        "burial_depth_m", "burial_depth_sd_m", "length_m", "width_m", "thickness_m", "azimuth_deg", "probability", "target_strength_db", "reflection_coefficient",
        "reflection_relative_to_seabed", "material", "material_probabilities", "lines_seen", "looks", "log10_bayes_factor", "top_depth_m", "notes",
    ];

    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Geojson_has_the_contracts_properties_in_order_most_probable_first()
    {
        using JsonDocument json = GeoJson(Results.Small());
        JsonElement[] features = [.. json.RootElement.GetProperty("features").EnumerateArray()];
        Assert.Equal(["T1", "T2", "T0"], features.Select(f => f.GetProperty("properties").GetProperty("id").GetString()));
        JsonElement p = features[0].GetProperty("properties");
        Assert.Equal(Contract, p.EnumerateObject().Select(x => x.Name));
        Assert.Equal("500012.346", p.GetProperty("easting_m").GetRawText());
        Assert.Equal("0.042", p.GetProperty("horizontal_sd_m").GetRawText());
        Assert.Equal("0.0", p.GetProperty("azimuth_deg").GetRawText());
        Assert.Equal("-1.2346", p.GetProperty("reflection_relative_to_seabed").GetRawText());
        Assert.Equal("null", p.GetProperty("thickness_m").GetRawText());
        Assert.Equal("""{"iron":0.5,"stone":0.25,"ceramic":0.1,"timber":0.1,"gas":0,"other":0.05}""", p.GetProperty("material_probabilities").GetRawText());
        Assert.Equal(["=seen once", "at the edge"], p.GetProperty("notes").EnumerateArray().Select(n => n.GetString()));
    }

    [Fact]
    public void Gdal_puts_the_points_where_they_are()
    {
        TargetsGeoJson.Write(_folder["targets.geojson"], Results.Small());
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo import ogr, osr
            d = ogr.Open(sys.argv[1]); l = d.GetLayer(0); f = l.GetNextFeature()
            s = osr.SpatialReference(); s.ImportFromEPSG(32631)
            s.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
            g = f.GetGeometryRef(); g.TransformTo(s)
            print(l.GetFeatureCount(), round(g.GetX(), 3), round(g.GetY(), 3), f['id'])
            """, "osgeo", _folder["targets.geojson"]);
        Assert.Equal("3 500012.346 5760990.988 T1", said.Trim());
    }

    [Fact]
    public void Csv_read_by_pythons_reader_says_the_same_as_geojson()
    {
        TargetsCsv.Write(_folder["targets.csv"], Results.Small());
        using JsonDocument json = GeoJson(Results.Small());
        using JsonDocument rows = JsonDocument.Parse(OutsideReader.RunPython(
            "import csv, json, sys\nprint(json.dumps(list(csv.DictReader(open(sys.argv[1], newline='', encoding='utf-8'), strict=True))))", "csv", _folder["targets.csv"]));
        JsonElement[] features = [.. json.RootElement.GetProperty("features").EnumerateArray()];
        JsonElement[] read = [.. rows.RootElement.EnumerateArray()];
        Assert.Equal(features.Length, read.Length);
        for (int i = 0; i < read.Length; i++)
        {
            Assert.Equal([.. Contract, "longitude_deg", "latitude_deg"], read[i].EnumerateObject().Select(c => c.Name));
            foreach (JsonProperty property in features[i].GetProperty("properties").EnumerateObject().Where(x => x.Name != "notes"))
            {
                string cell = read[i].GetProperty(property.Name).GetString()!;
                Assert.Equal(property.Value.ValueKind switch { JsonValueKind.Null => "", JsonValueKind.String => property.Value.GetString(), _ => property.Value.GetRawText() }, cell);
            }
        }
    }

    [Fact]
    public void A_cell_that_would_run_as_a_formula_is_disarmed()
    {
        SurveyResult result = Results.Small() with { Targets = [Results.Target("=1+1", 1, "@SUM(A1)"), Results.Target("a,\"b\"\n", 0)] };
        TargetsCsv.Write(_folder["targets.csv"], result);
        string[] rows = File.ReadAllText(_folder["targets.csv"]).Split("\r\n");
        Assert.StartsWith("'=1+1,500012.346,", rows[1]);
        Assert.Contains(",'@SUM(A1),", rows[1]);
        Assert.StartsWith("\"a,\"\"b\"\"\n\",", rows[2]);
        Assert.Contains(",-1.2346,", rows[1]);
    }

    [Theory]
    [InlineData(0, "0.5")]
    [InlineData(8, "0.9996646")]
    [InlineData(-8, "0.0003354")]
    [InlineData(30, "0.99999999999990642")]
    [InlineData(-30, "9.358E-14")]
    [InlineData(500, "0.9999999999999999")]
    [InlineData(double.PositiveInfinity, "1")]
    [InlineData(double.NegativeInfinity, "0")]
    public void A_probability_keeps_four_digits_of_what_is_rarer(double logOdds, string written) =>
        Assert.Equal(written, ResultNumber.Probability(new Probability(logOdds)));

    [Fact]
    public void A_probability_that_is_not_certain_is_never_written_as_certain() => Gen.Double[-2000, 2000].Sample(odds =>
    {
        double read = double.Parse(ResultNumber.Probability(new Probability(odds)));
        Assert.True(read is > 0 and < 1);
        double p = 1 / (1 + Math.Exp(-Math.Abs(odds)));
        Assert.Equal(odds > 0 ? p : 1 - p, read, 1e-3 * (1 - p) + 3e-16);
    });

    [Fact]
    public void The_same_result_twice_gives_the_same_bytes()
    {
        foreach (string name in new[] { "a", "b" })
        {
            TargetsGeoJson.Write(_folder[name + "/t.geojson"], Results.Small());
            TargetsCsv.Write(_folder[name + "/t.csv"], Results.Small());
        }

        Assert.Equal(ScratchFolder.Fingerprints(_folder["a"]), ScratchFolder.Fingerprints(_folder["b"]));
    }

    [Fact]
    public void What_is_not_finite_is_not_known()
    {
        using JsonDocument json = GeoJson(Results.Small() with { Targets = [Results.Target("T", 1) with { LogBayesFactor = double.PositiveInfinity, Thickness = double.NaN, TargetStrengthDb = -0.0001 }] });
        JsonElement p = json.RootElement.GetProperty("features")[0].GetProperty("properties");
        Assert.Equal("null", p.GetProperty("log10_bayes_factor").GetRawText());
        Assert.Equal("null", p.GetProperty("thickness_m").GetRawText());
        Assert.Equal("0.00", p.GetProperty("target_strength_db").GetRawText());
    }

    private JsonDocument GeoJson(SurveyResult result)
    {
        TargetsGeoJson.Write(_folder["targets.geojson"], result);
        return JsonDocument.Parse(File.ReadAllText(_folder["targets.geojson"]));
    }
}
