using System.Net;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Undersand.Positioning;
using Undersand.Workbench.Components;
using Undersand.Workbench.Work;

namespace Undersand.Workbench.Tests.Work;

public class LineRulesTests
{
    private static readonly Angle s_swath = Angle.FromDegrees(45);

    [Fact]
    public void Good_lines_whose_swaths_meet_need_nothing() =>
        Assert.Empty(LineRules.For([Line("a", 0), Line("b", 3.9), Line("c", 7.8)], s_swath, LengthUnit.Metre));

    [Fact]
    public void Neighbours_that_do_not_meet_need_a_line_between_and_only_they()
    {
        Advice advice = Assert.Single(LineRules.For([Line("a", 0), Line("b", 3.9), Line("c", 9)], s_swath, LengthUnit.Metre));
        Assert.Equal(("Add a line between b and c", "neither sees a strip up to 1.1 m wide at the seabed between them"), (advice.Do, advice.Why));
        // Midway, over the stretch in which each has the other abeam.
        Assert.Equal((500_001, 5_760_006.45, 500_019, 5_760_006.45, "090", 18), (advice.Sail.Start.Easting, advice.Sail.Start.Northing, advice.Sail.End.Easting, advice.Sail.End.Northing, advice.Sail.Heading, advice.Sail.Length));
        Assert.Equal("neither sees a strip up to 3.6 ft wide at the seabed between them", Assert.Single(LineRules.For([Line("a", 0), Line("b", 3.9), Line("c", 9)], s_swath, LengthUnit.Foot)).Why);
        // A third one that sees the middle closes it.
        Assert.Empty(LineRules.For([Line("b", 3.9), Line("c", 9), Line("d", 6.4)], s_swath, LengthUnit.Metre));
    }

    [Fact]
    public void Each_rule_names_the_line_to_repeat_and_why()
    {
        LineResult good = Line("good", 0), other = Line("other", 2);
        LineResult Bad(string name, Func<LineQuality, LineQuality> change) => Line(name, 1) with { Quality = change(good.Quality) with { Name = name } };
        string Why(Func<LineQuality, LineQuality> change)
        {
            Advice advice = Assert.Single(LineRules.For([good, Bad("bad", change), other], s_swath, LengthUnit.Metre));
            Assert.Equal(("Repeat bad", new LineToSail(new(500_000, 5_760_001, 4), new(500_020, 5_760_001, 4))), (advice.Do, advice.Sail));
            return advice.Why;
        }
        Assert.Equal("weak seabed", Why(q => q with { SeabedSnrDb = 14.9 }));
        Assert.Equal("only 30 of 41 pings used", Why(q => q with { PingsUsed = 30 }));
        Assert.Equal("11 of 205 traces silent", Why(q => q with { DropOuts = 11 }));
        Assert.Equal("pings far apart (0.51 m at 2.0 m height)", Why(q => q with { PingSpacing = 0.51 }));
        Assert.Equal("3.1 m above the seabed, where the others keep 2.0 m", Why(q => q with { MeanHeight = 3.1 }));
        Assert.Empty(LineRules.For([good, Bad("bad", q => q with { DropOuts = 10, SeabedSnrDb = 15, PingSpacing = 0.5, MeanHeight = 3, PingsUsed = 37 }), other], s_swath, LengthUnit.Metre));
    }

    [Fact]
    public void A_dead_receiver_is_said_but_no_reason_to_sail_again()
    {
        LineResult line = Line("a", 0);
        line = line with { Quality = line.Quality with { DeadReceivers = [3] } };
        Assert.Equal(["1 receiver dead"], LineRules.Faults(line.Quality, LengthUnit.Metre));
        Assert.Empty(LineRules.For([line], s_swath, LengthUnit.Metre));
    }

    [Theory]
    [InlineData(0, 10, "000")]
    [InlineData(-0.01, 10, "000")]
    [InlineData(10, 0, "090")]
    [InlineData(-1, -1, "225")]
    [InlineData(0.5, 10, "003")]
    public void A_heading_is_three_digits_from_grid_north(double east, double north, string heading) =>
        Assert.Equal(heading, new LineToSail(new(500_000, 5_760_000, 0), new(500_000 + east, 5_760_000 + north, 0)).Heading);

    [Fact]
    public async Task The_page_says_from_where_to_where_and_what_it_is_not()
    {
        Assert.True(ProjectedCrs.TryFromEpsg(32631, out ProjectedCrs? crs));
        await using var renderer = new HtmlRenderer(new ServiceCollection().BuildServiceProvider(), NullLoggerFactory.Instance);
        string page = await renderer.Dispatcher.InvokeAsync(async () => WebUtility.HtmlDecode((await renderer.RenderComponentAsync<LineAdvice>(ParameterView.FromDictionary(new Dictionary<string, object?>
        {
            ["Lines"] = new[] { Line("b", 3.9), Line("c", 9) },
            ["Crs"] = crs,
            ["UnitsName"] = "feet",
        }))).ToHtmlString()));
        // 500 km east is the zone's middle, 3° E; the latitude is PROJ's: echo 500001 5760006.45 | cs2cs EPSG:32631 EPSG:4326.
        Assert.Contains("<dt>From</dt><dd>500001.00, 5760006.45<br>51° 59.4434′ N, 3° 00.0009′ E</dd>", page);
        Assert.Contains("<dt>Heading</dt><dd>090° from grid north, for 59.1 ft</dd>", page);
        Assert.Contains("<strong>Advice for the search, not for navigation.</strong>", page);
        Assert.Contains("pings.csv", page);
    }

    // 20 m eastwards, 2 m above the seabed: at 45° the swath reaches 2 m to either side.
    private static LineResult Line(string name, double north) => new(name,
        new LineQuality { Name = name, Pings = 41, PingsUsed = 41, Receivers = 5, DeadReceivers = [], NoiseLevel = 1, SeabedSnrDb = 30, MeanHeight = 2, PingSpacing = 0.5, Length = 20 },
        [.. Enumerable.Range(0, 41).Select(i => new PingResult(i, Instant.FromUnixTimeSeconds(i), new GridPoint(500_000 + 0.5 * i, 5_760_000 + north, 4), 6, true, 30))]);
}
