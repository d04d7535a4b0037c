using System.Net;
using System.Net.Http;
using System.Text.Json;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Web;

public class AnswerTests(SmallResults small)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("/")]
    [InlineData("/lines")]
    [InlineData("/take")]
    [InlineData("/api/view")]
    [InlineData("/assets/tokens.css")]
    [InlineData("/files/report.html")]
    [InlineData("/report")]
    [InlineData("/ogc")]
    public async Task Every_answer_forbids_what_comes_from_outside(string path)
    {
        using HttpResponseMessage answer = await small.Client.GetAsync(path, Stop);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        string policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'none'", policy);
        Assert.Contains("script-src 'self';", policy);
        Assert.Contains("frame-ancestors 'none'", policy);
        Assert.DoesNotContain("http", policy);
        Assert.DoesNotContain("unsafe-eval", policy);
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.Equal("no-referrer", Assert.Single(answer.Headers.GetValues("Referrer-Policy")));
        Assert.False(answer.Headers.Contains("Server"));
    }

    [Fact]
    public async Task Another_name_for_this_machine_is_refused()
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/api/view") { Headers = { Host = "elsewhere.example" } };
        using HttpResponseMessage answer = await small.Client.SendAsync(request, Stop);
        Assert.Equal(HttpStatusCode.MisdirectedRequest, answer.StatusCode);
    }

    [Theory]
    [InlineData("/_blazor/negotiate?negotiateVersion=1")]
    [InlineData("/")]
    public async Task A_strangers_page_can_change_nothing(string path)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path);
        request.Headers.Add("Origin", "https://elsewhere.example");
        using HttpResponseMessage answer = await small.Client.SendAsync(request, Stop);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Theory]
    [InlineData("/files/..%2Frun.json")]
    [InlineData("/files/volume.zarr")]
    [InlineData("/assets/..%2F..%2Frun.json")]
    [InlineData("/map/seabed/99/0/0.png")]
    [InlineData("/map/elsewhere/0/0/0.png")]
    [InlineData("/section/reflectivity/0/0.png?path=1,2")]
    [InlineData("/section/reflectivity/0/100000.png?line=line-01.sgy")]
    [InlineData("/sheet")]
    public async Task What_is_not_there_is_said_not_to_be(string path)
    {
        using HttpResponseMessage answer = await small.Client.GetAsync(path, Stop);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task Beside_each_probability_stands_that_it_is_not_calibrated()
    {
        string id = (await TargetIds())[0];
        Assert.Contains("Not calibrated yet.", await small.Client.GetStringAsync("/", Stop));
        Assert.Contains("not calibrated yet", await small.Client.GetStringAsync($"/?t={id}", Stop));
        Assert.Contains("not calibrated yet", await small.Client.GetStringAsync($"/sheet/{id}", Stop));
    }

    [Theory]
    [InlineData("/report", "/files/report.html")]
    [InlineData("/report/judged", "/told/report.html")]
    public async Task A_report_is_read_in_the_theme_chosen_and_taken_away_as_it_is(string read, string taken)
    {
        async Task<string> Ask(string path, string theme)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, path) { Headers = { { "Cookie", $"theme={theme}" } } };
            using HttpResponseMessage answer = await small.Client.SendAsync(request, Stop);
            Assert.Equal("text/html", answer.Content.Headers.ContentType?.MediaType);
            return await answer.Content.ReadAsStringAsync(Stop);
        }
        string plain = await small.Client.GetStringAsync(taken, Stop), night = await Ask(read, "night");
        Assert.Equal(plain, await Ask(taken, "night"));
        Assert.Equal(plain, await small.Client.GetStringAsync(read, Stop));
        Assert.Equal(plain, await Ask(read, "mauve"));
        Assert.Contains("<html lang=\"en\" data-theme=\"night\">", night);
        Assert.DoesNotContain("data-theme=\"night\">", plain);
    }

    [Fact]
    public async Task Gdal_reads_targets_lines_and_coverage_as_features()
    {
        string root = "OAPIF:" + new Uri(small.Address, "/ogc");
        string[] ids = await TargetIds();
        string targets = OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", root, "targets");
        Assert.Contains($"Feature Count: {ids.Length}", targets);
        Assert.All(ids, id => Assert.Contains(id, targets));
        Assert.Contains("Feature Count: 2", OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", root, "lines"));
        Assert.Contains("POLYGON", OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", root, "coverage"));
        Assert.Contains("Feature Count: 60", OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-so", root, "magnetics"));
        Assert.Contains("reached_depth_m (Real) = 0.8", OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", root, "outcomes"));
        Assert.Contains("Feature Count: 0", OutsideReader.RunTool("ogrinfo", "gdal-bin", "-ro", "-al", "-spat", "10", "10", "11", "11", root, "targets"));
    }

    [Fact]
    public void Gdal_reads_a_map_by_range()
    {
        string map = OutsideReader.RunTool("gdalinfo", "gdal-bin", "-stats", "--config", "GDAL_PAM_ENABLED", "NO", "/vsicurl/" + new Uri(small.Address, "/files/maps/seabed.tif"));
        Assert.Contains("\"EPSG\",32631", map);
        Assert.Contains("LAYOUT=COG", map);
        Assert.Contains("STATISTICS_MEAN=6.", map);
    }

    [Fact]
    public async Task Features_come_page_by_page_with_how_many_there_are()
    {
        using JsonDocument first = JsonDocument.Parse(await small.Client.GetStringAsync("/ogc/collections/lines/items?limit=1", Stop));
        Assert.Equal((2, 1), (first.RootElement.GetProperty("numberMatched").GetInt32(), first.RootElement.GetProperty("numberReturned").GetInt32()));
        string next = first.RootElement.GetProperty("links").EnumerateArray().Single(l => l.GetProperty("rel").GetString() == "next").GetProperty("href").GetString()!;
        using JsonDocument second = JsonDocument.Parse(await small.Client.GetStringAsync(next, Stop));
        Assert.DoesNotContain(second.RootElement.GetProperty("links").EnumerateArray(), l => l.GetProperty("rel").GetString() == "next");
        foreach (string wrong in new[] { "limit=0", "bbox=1,2", "offset=-1", "colour=red" })
        {
            using HttpResponseMessage refused = await small.Client.GetAsync($"/ogc/collections/lines/items?{wrong}", Stop);
            Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        }
    }

    private async Task<string[]> TargetIds()
    {
        using JsonDocument view = JsonDocument.Parse(await small.Client.GetStringAsync("/api/view", Stop));
        return [.. view.RootElement.GetProperty("targets").EnumerateArray().Select(t => t.GetProperty("id").GetString()!)];
    }
}
