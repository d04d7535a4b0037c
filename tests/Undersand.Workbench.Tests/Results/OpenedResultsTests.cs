using System.Text.Json;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.GeoTiff;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Results;

public class OpenedResultsTests(SmallResults small)
{
    [Fact]
    public void Targets_lines_and_cautions_are_those_of_the_other_files()
    {
        OpenedResults results = OpenedResults.Open(small.Folder);
        using JsonDocument geo = JsonDocument.Parse(File.ReadAllText(Path.Combine(small.Folder, "targets.geojson")));
        JsonElement[] features = [.. geo.RootElement.GetProperty("features").EnumerateArray().Select(f => f.GetProperty("properties"))];
        Assert.NotEmpty(features);
        Assert.Equal(features.Select(f => f.GetProperty("id").GetString()), results.Targets.Select(t => t.Id));
        Assert.All(features.Zip(results.Targets), p => Assert.Equal(p.First.GetProperty("burial_depth_m").GetDouble(), p.Second.BurialDepth.Value, 0.00051));
        Assert.All(features.Zip(results.Targets), p => Assert.Equal(p.First.GetProperty("probability").GetDouble(), p.Second.Probability.Value, 1e-4));
        Assert.Equal(["line-01.sgy", "line-02.sgy"], results.Contents.Lines.Select(l => l.Name));
        Assert.All(results.Contents.Lines, l => Assert.Equal(l.Quality.Pings, l.Pings.Count));
        Assert.Equal("Tern Bank, trial", results.Name);
    }

    [Fact]
    public void A_map_is_read_back_as_it_was_written_at_every_level()
    {
        using var folder = new TestFolder();
        var values = new float[300 * 270];
        for (int i = 0; i < values.Length; i++)
            values[i] = i % 17 == 0 ? float.NaN : 0.25f * i;
        var raster = new Raster(500_000.5, 5_760_000.5, 1, 300, 270, values);
        Assert.True(Undersand.Positioning.ProjectedCrs.TryFromEpsg(32631, out var crs));
        GeoTiffWriter.WriteCloudOptimised(folder["a.tif"], raster, crs, "Trial – ½", "m", OverviewRule.Greatest);
        GeoTiffMap map = GeoTiffMap.Open(folder["a.tif"]);
        Assert.Equal((500_000.0, 5_760_270.0, 500_300.0, 5_760_000.0, "Trial – ½"), (map.West, map.North, map.East, map.South, map.Description));
        Assert.Equal([(300, 270), (150, 135)], map.Levels.Select(l => (l.Width, l.Height)));
        float[] upper = map.ReadTile(0, 1, 0);
        for (int y = 0; y < 256; y++)
            for (int x = 0; x < 44; x++)
                Assert.Equal(values[(269 - y) * 300 + 256 + x], upper[y * 256 + x]);
        Assert.True(float.IsNaN(upper[44]));
        Assert.Equal(new[] { values[269 * 300], values[269 * 300 + 1], values[268 * 300], values[268 * 300 + 1] }.Where(float.IsFinite).Max(), map.ReadTile(1, 0, 0)[0]);
    }

    [Fact]
    public void A_folder_that_holds_no_results_is_refused_with_what_to_do_instead()
    {
        using var folder = new TestFolder();
        Assert.Contains("there is no such folder", Refusal(folder["none"]));
        Assert.Contains("this is no results folder (it has no run.json)", Refusal(folder.Path));
        Assert.Contains("this is a survey, not results; process it first with “undersand process", Refusal(small.Survey));
        Assert.Contains("this is a file", Refusal(folder.Write("a.txt", "x")));
        folder.Write("run.json", "{}");
        Assert.Contains("run.json is damaged", Refusal(folder.Path));
    }

    [Fact]
    public void The_folder_around_the_results_will_do()
    {
        Assert.Equal(Path.GetFullPath(small.Folder), OpenedResults.Open(Path.GetDirectoryName(small.Folder)!).Folder);
    }

    private static string Refusal(string folder) => Assert.Throws<SurveyException>(() => OpenedResults.Open(folder)).Message;
}
