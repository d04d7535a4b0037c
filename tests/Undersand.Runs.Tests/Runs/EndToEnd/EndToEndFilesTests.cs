using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>One whole run: every file of the contract is there, and others' programs read it.</summary>
public sealed class EndToEndFilesTests(ProcessedSurvey made) : IClassFixture<ProcessedSurvey>
{
    private static readonly string[] Maps = ["burial_of_greatest.tif", "could_have_seen.tif", "probability.tif", "seabed.tif"];

    // contract.md, RESULTS, the table of properties.
    private static readonly string[] Properties =
    [
        "id", "easting_m", "northing_m", "horizontal_sd_m", "ellipse_major_m", "ellipse_minor_m", "ellipse_azimuth_deg", "alternative_easting_m", "alternative_northing_m",
        "burial_depth_m", "burial_depth_sd_m", "length_m", "width_m", "thickness_m", "azimuth_deg", "probability", "target_strength_db", "reflection_coefficient",
        "reflection_relative_to_seabed", "material", "material_probabilities", "lines_seen", "looks",
    ];

    [Fact]
    public void Every_file_of_the_contract_is_there_and_none_is_unfinished()
    {
        string[] files = [.. FolderBytes.Of(made.Results).Keys];
        Assert.Equal(["SHA256SUMS", "maps", "report.html", "report.pdf", "run.json", "survey.gpkg", "targets.csv", "targets.geojson", "volume.zarr"],
            Directory.EnumerateFileSystemEntries(made.Results).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Equal(Maps, Directory.EnumerateFiles(made["maps"]).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.DoesNotContain(files, f => f.Contains(".tmp", StringComparison.Ordinal));
        Assert.All(made.Outcome.Files, f => Assert.True(Path.Exists(f.Path), f.Path));
    }

    [Fact]
    public void The_sums_name_every_file_but_the_record_and_a_changed_byte_is_found()
    {
        Assert.Equal(FolderBytes.Of(made.Results).Where(f => f.Key is not ("run.json" or "SHA256SUMS")).Select(f => $"{f.Value}  {f.Key}"), File.ReadAllLines(made["SHA256SUMS"]));
        OutsideReader.RunTool("sha256sum", "coreutils", "--version");
        Assert.DoesNotContain("FAILED", Checked(), StringComparison.Ordinal);
        byte[] whole = File.ReadAllBytes(made["maps", "seabed.tif"]);
        File.WriteAllBytes(made["maps", "seabed.tif"], [.. whole[..^1], (byte)(whole[^1] ^ 1)]);
        try
        {
            Assert.Contains("maps/seabed.tif: FAILED", Checked(), StringComparison.Ordinal);
        }
        finally
        {
            File.WriteAllBytes(made["maps", "seabed.tif"], whole);
        }

        string Checked() => OutsideReader.RunTool("sh", "dash", "-c", "cd \"$1\" && sha256sum -c --quiet SHA256SUMS || true", "sh", made.Results);
    }

    [Fact]
    public void The_survey_is_untouched() => Assert.Equal(made.Before, FolderBytes.Of(made.Survey));

    [Fact]
    public void The_ball_is_found_where_it_is()
    {
        FoundTarget ball = FoundTarget.BallIn(made.Results);
        Assert.Equal(ball, FoundTarget.AllIn(made.Results)[0]);
        Assert.True(ball.Probability > 0.9, $"{ball}");
        // The measure: 3 cm horizontally, 1.5 cm in burial.
        Assert.True(ball.DistanceToBall < 0.03, $"{ball}");
        Assert.Equal(SmallSurvey.Burial, ball.Burial, 0.015);
        Assert.DoesNotContain(FoundTarget.AllIn(made.Results), t => t.Id != ball.Id && t.Probability > 0.5);
    }

    [Fact]
    public void Targets_have_every_property_in_both_files()
    {
        using var geo = JsonDocument.Parse(File.ReadAllBytes(made["targets.geojson"]));
        JsonElement feature = geo.RootElement.GetProperty("features")[0];
        Assert.Equal("Point", feature.GetProperty("geometry").GetProperty("type").GetString());
        Assert.Superset(Properties.ToHashSet(), feature.GetProperty("properties").EnumerateObject().Select(p => p.Name).ToHashSet());
        Assert.Equal(1, feature.GetProperty("properties").GetProperty("material_probabilities").EnumerateObject().Sum(p => p.Value.GetDouble()), 0.002);
        string rows = OutsideReader.RunPython("import csv, json, sys; print(json.dumps(list(csv.DictReader(open(sys.argv[1], newline='')))))", "json", made["targets.csv"]);
        using var table = JsonDocument.Parse(rows);
        JsonElement row = table.RootElement[0];
        Assert.Superset(Properties.ToHashSet(), row.EnumerateObject().Select(p => p.Name).ToHashSet());
        foreach (string name in (string[])["easting_m", "northing_m", "burial_depth_m", "probability"])
            Assert.Equal(feature.GetProperty("properties").GetProperty(name).GetDouble(), double.Parse(row.GetProperty(name).GetString()!, CultureInfo.InvariantCulture));
    }

    [Fact]
    public void Longitude_and_latitude_are_what_Proj_makes_of_easting_and_northing()
    {
        string said = OutsideReader.RunPython(
            """
            import json, sys
            from osgeo import osr
            f = json.load(open(sys.argv[1]))['features'][0]
            s, t = osr.SpatialReference(), osr.SpatialReference()
            s.ImportFromEPSG(32631); t.ImportFromEPSG(4326); t.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
            x, y, _ = osr.CoordinateTransformation(s, t).TransformPoint(f['properties']['easting_m'], f['properties']['northing_m'])
            print(max(abs(x - f['geometry']['coordinates'][0]), abs(y - f['geometry']['coordinates'][1])))
            """, "osgeo", made["targets.geojson"]);
        // 1e-8 degrees are a millimetre.
        Assert.True(double.Parse(said, CultureInfo.InvariantCulture) < 2e-8, said);
    }

    [Fact]
    public void Gdal_validates_the_maps_and_the_database()
    {
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo_utils.samples import validate_cloud_optimized_geotiff as tif, validate_gpkg as gpkg
            gpkg.check(sys.argv[1])
            for f in sys.argv[2:]:
                warnings, errors, details = tif.validate(f, full_check=True)
                assert not warnings and not errors, (f, warnings, errors)
            print('fine')
            """, "osgeo_utils", [made["survey.gpkg"], .. Maps.Select(m => made["maps", m])]);
        Assert.EndsWith("fine", said.Trim(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_map_of_probability_is_greatest_over_the_ball()
    {
        string[] said = OutsideReader.RunPython(
            """
            import sys, numpy
            from osgeo import gdal
            d = gdal.Open(sys.argv[1]); a = d.ReadAsArray(); g = d.GetGeoTransform()
            y, x = numpy.unravel_index(numpy.nanargmax(a), a.shape)
            print(g[0] + (x + .5) * g[1], g[3] + (y + .5) * g[5], numpy.nanmax(a))
            """, "osgeo", made["maps", "probability.tif"]).Split(' ');
        double[] at = [.. said.Select(s => double.Parse(s, CultureInfo.InvariantCulture))];
        Assert.Equal(SmallSurvey.Ball.Easting, at[0], 0.12);
        Assert.Equal(SmallSurvey.Ball.Northing, at[1], 0.12);
        Assert.InRange(at[2], 0.5, 1);
    }

    [Fact]
    public void Xarray_finds_the_ball_in_the_volume()
    {
        string[] said = OutsideReader.RunPython(
            """
            import sys, numpy, xarray
            d = xarray.open_zarr(sys.argv[1])
            n = d.traces.sum('look'); a = abs(d.sum_real.sum('look') + 1j * d.sum_imaginary.sum('look')) / n.where(n > 0)
            near = a.sel(burial=slice(.25, .6), northing=slice(float(sys.argv[3]) - .5, float(sys.argv[3]) + .5), easting=slice(float(sys.argv[2]) - .5, float(sys.argv[2]) + .5))
            at = near.where(near == near.max(), drop=True)
            print(float(at.easting[0]), float(at.northing[0]), float(at.burial[0]), int(d.sizes['look']), 'crs' in d)
            """, "xarray", made["volume.zarr"], SmallSurvey.Ball.Easting.ToString(CultureInfo.InvariantCulture), SmallSurvey.Ball.Northing.ToString(CultureInfo.InvariantCulture)).Trim().Split(' ');
        Assert.Equal(SmallSurvey.Ball.Easting, double.Parse(said[0], CultureInfo.InvariantCulture), 0.1);
        Assert.Equal(SmallSurvey.Ball.Northing, double.Parse(said[1], CultureInfo.InvariantCulture), 0.1);
        Assert.Equal(SmallSurvey.Burial, double.Parse(said[2], CultureInfo.InvariantCulture), 0.1);
        Assert.Equal(("6", "True"), (said[3], said[4]));
    }

    [Fact]
    public void Gdal_opens_the_volume() => Assert.Contains("sum_real", OutsideReader.RunTool("gdalmdiminfo", "gdal-bin", made["volume.zarr"]), StringComparison.Ordinal);

    [Fact]
    public void The_database_names_lines_pings_and_target()
    {
        string said = OutsideReader.RunPython(
            """
            import sys
            from osgeo import ogr
            d = ogr.Open(sys.argv[1])
            print({d.GetLayer(i).GetName(): d.GetLayer(i).GetFeatureCount() for i in range(d.GetLayerCount())})
            """, "osgeo", made["survey.gpkg"]);
        Assert.Contains("'lines': 2", said, StringComparison.Ordinal);
        Assert.Contains($"'pings': {SmallSurvey.TwoLines.Lines.Sum(l => l.PingCount)}", said, StringComparison.Ordinal);
        Assert.Contains($"'targets': {FoundTarget.AllIn(made.Results).Count}", said, StringComparison.Ordinal);
    }

    [Fact]
    public void The_report_is_sound_and_names_the_target()
    {
        OutsideReader.RunTool("qpdf", "qpdf", "--check", made["report.pdf"]);
        string id = FoundTarget.BallIn(made.Results).Id, html = File.ReadAllText(made["report.html"]);
        Assert.Contains(id, html, StringComparison.Ordinal);
        Assert.Contains(id, OutsideReader.RunTool("pdftotext", "poppler-utils", made["report.pdf"], "-"), StringComparison.Ordinal);
        Assert.DoesNotContain("src=\"http", html, StringComparison.Ordinal);
    }

    [Fact]
    public void The_record_names_every_input_with_its_hash()
    {
        RunRecord record = RunRecord.TryRead(made["run.json"])!;
        Assert.True(record.Finished);
        Assert.Equal(made.Before.Keys.Order(StringComparer.Ordinal), record.Inputs.Select(i => i.File));
        Assert.All(record.Inputs, i => Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(Path.Combine(made.Survey, i.File)))), i.Sha256));
        Assert.Equal(SmallSurvey.TwoLines.Lines.Max(l => l.PingAt(l.PingCount - 1).Time), record.NewestPing);
        Assert.NotEmpty(record.Steps);
    }

    [Fact]
    public void The_started_program_gives_the_same_bytes_on_one_thread()
    {
        StartedProgram.Ending ending = StartedProgram.Run("process", made.Survey, "--out", made.Beside("one-thread"), "--threads", "1");
        Assert.Equal((0, ""), (ending.ExitCode, ending.Errors));
        Assert.Contains("Open these:", ending.Output, StringComparison.Ordinal);
        FolderBytes.AssertSameResults(made.Results, made.Beside("one-thread"));
        Assert.Equal(1, RunRecord.TryRead(made.Beside("one-thread/run.json"))!.Timings!.Threads);
    }
}
