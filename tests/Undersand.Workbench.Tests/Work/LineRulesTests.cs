using NodaTime;
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
            Assert.Equal("Repeat bad", advice.Do);
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

    // 20 m eastwards, 2 m above the seabed: at 45° the swath reaches 2 m to either side.
    private static LineResult Line(string name, double north) => new(name,
        new LineQuality { Name = name, Pings = 41, PingsUsed = 41, Receivers = 5, DeadReceivers = [], NoiseLevel = 1, SeabedSnrDb = 30, MeanHeight = 2, PingSpacing = 0.5, Length = 20 },
        [.. Enumerable.Range(0, 41).Select(i => new PingResult(i, Instant.FromUnixTimeSeconds(i), new GridPoint(500_000 + 0.5 * i, 5_760_000 + north, 4), 6, true, 30))]);
}
