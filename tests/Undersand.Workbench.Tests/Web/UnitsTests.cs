using System.Net;
using System.Net.Http;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Web;

public class UnitsTests(SmallResults small)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    // A yard is 0.9144 m (24 Federal Register 5348, 1959), a foot a third of it, a fathom two of it. Decimals are exact here.
    [Fact]
    public void A_foot_and_a_fathom_are_what_the_agreement_says()
    {
        Assert.Equal(0.9144m, 3 * (decimal)LengthUnit.Foot.Metres);
        Assert.Equal(2 * 0.9144m, (decimal)LengthUnit.Fathom.Metres);
        Assert.Equal(1, LengthUnit.Metre.Metres);
    }

    [Theory]
    [InlineData("metres", "9.14 m", "0.46 m")]
    [InlineData("feet", "30.00 ft", "1.50 ft")]
    [InlineData("fathoms", "5.00 fathoms", "1.50 ft")]
    public void Only_depths_of_the_water_are_in_fathoms(string name, string depth, string burial)
    {
        Units units = Units.Named(name);
        Assert.Equal((name, depth, burial), (units.Name, units.Depth.Write(9.144, 2), units.Length.Write(0.4572, 2)));
    }

    [Fact]
    public void An_uncertainty_keeps_the_digits_that_count()
    {
        Assert.Equal("1.4 ± 0.3 ft", LengthUnit.Foot.Write(new Estimate(0.42, 0.09)));
        Assert.Equal("0.42 ± 0.09 m", LengthUnit.Metre.Write(new Estimate(0.42, 0.09)));
        Assert.Equal("– ft", LengthUnit.Foot.Write(double.NaN, 2));
    }

    [Fact]
    public void Areas_go_by_the_square_and_what_was_set_has_no_zeros_at_its_end()
    {
        Assert.Equal(("10.76 ft²", "1.64 ft", "0.5 m"), (LengthUnit.Foot.Area(1, 2), LengthUnit.Foot.Given(0.5), LengthUnit.Metre.Given(0.5)));
    }

    [Fact]
    public void In_brackets_stands_only_what_is_not_metres()
    {
        var measured = new HandMeasure("T1", default, 1.4, null, null, 0.3048, "by probe", "Ada", default);
        Assert.Equal("", LengthUnit.Metre.Beside(u => u.Write(measured)));
        Assert.Equal(" (4.59 × ? × ? ft, burial 1.00 ft)", LengthUnit.Foot.Beside(u => u.Write(measured)));
        Assert.Equal("", LengthUnit.Foot.Beside(u => u.Write(measured with { Length = null, Burial = null })));
    }

    [Theory]
    [InlineData(null, "", "metres")]
    [InlineData("feet", "", "feet")]
    [InlineData("feet", "?units=fathoms", "fathoms")]
    [InlineData("feet", "?units=cubits", "feet")]
    [InlineData("cubits", "", "metres")]
    public async Task The_link_goes_before_what_was_chosen_and_nonsense_is_metres(string? cookie, string query, string shown)
    {
        string page = await Page("/lines" + query, cookie);
        Assert.Contains($"data-units=\"{shown}\"", page);
        Assert.Contains($"Ping spacing, {Units.Named(shown).Length.Name}</div>", page);
        Assert.Contains(Units.Named(shown).Said + " · depths downwards from the water surface", page);
    }

    [Fact]
    public async Task A_visit_sheet_always_has_metres_and_brackets_where_others_were_chosen()
    {
        Target target = OpenedResults.Open(small.Folder).Targets[0];
        string metres = $"{LengthUnit.Metre.Write(target.Position.Depth, 2)}", sheet = $"/sheet/{target.Id}";
        Assert.Contains($"{metres} below the surface", await Page(sheet, null));
        Assert.Contains($"{metres} ({LengthUnit.Fathom.Write(target.Position.Depth, 2)}) below the surface", await Page(sheet, "fathoms"));
        Assert.Contains($"({LengthUnit.Foot.Write(target.BurialDepth)}) below the seabed", WebUtility.HtmlDecode(await Page(sheet, "fathoms")));
    }

    [Theory]
    [InlineData("/api/view")]
    [InlineData("/value?e=500004&n=5760000")]
    [InlineData("/files/report.html")]
    [InlineData("/files/targets.csv")]
    [InlineData("/ogc/collections/targets/items")]
    public async Task What_is_sent_and_handed_on_stays_in_metres(string path) => Assert.Equal(await Page(path, null), await Page(path, "feet"));

    private async Task<string> Page(string path, string? cookie)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        if (cookie is not null)
            request.Headers.Add("Cookie", "units=" + cookie);
        using HttpResponseMessage answer = await small.Client.SendAsync(request, Stop);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return await answer.Content.ReadAsStringAsync(Stop);
    }
}
