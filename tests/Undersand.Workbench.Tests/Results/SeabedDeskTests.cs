using Undersand.Runs.Tests.Support;
using Undersand.Storage.Surveys;
using Undersand.Workbench.Network;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Results;

public sealed class SeabedDeskTests(SmallResults small)
{
    private const string Line = "line-02.sgy";

    [Fact]
    public void Neighbouring_places_make_a_stretch_each_and_what_was_laid_at_once_goes_at_once()
    {
        using TestFolder copy = small.Copy();
        var desk = new SeabedDesk(OpenedResults.Open(copy.Path), new Visitors(null));
        desk.Lay(Line, [(40, 6), (20, 5.95), (30, 6.1)], " Ada ");
        desk.Lay(Line, [(50, 6), (50, 6)], "Ben");
        Assert.Equal([(20, 5.95, 30, 6.1), (30, 6.1, 40, 6.0), (50, 6.0, 50, 6.0)], SeabedByHand.Read(copy.Path).Select(s => (s.FirstPing, s.FirstDepth, s.LastPing, s.LastDepth)));
        Assert.Equal(["pings 20 to 40, 5.95 m to 6.00 m over 3 places", "ping 50, 6.00 m"], desk.Laid.Select(l => l.Extent));
        Assert.Matches(@", laid by Ada, \d{4}-\d\d-\d\d$", desk.Laid[0].Words);
        desk.Forget(Line, desk.Laid[0].When);
        Assert.Equal("Ben", Assert.Single(SeabedByHand.Read(copy.Path)).Who);
    }

    [Theory]
    [InlineData(Line, 20, 1.0, 30, 6.0, "Ada", "ping 20: a seabed at 1.00 m would not lie below the source, at")]
    [InlineData(Line, 20, double.NaN, 30, 6.0, "Ada", "ping 20: no seabed below the source")]
    [InlineData(Line, 20, 6.0, 30, 20_000, "Ada", "ping 30: a seabed at 20000.00 m is deeper than any sea")]
    [InlineData(Line, 0, 6.0, 30, 6.0, "Ada", "ping 0: the line has pings 1 to")]
    [InlineData(Line, 20, 6.0, 20, 6.1, "Ada", "ping 20: two depths were given for it; give one.")]
    [InlineData("elsewhere.sgy", 20, 6.0, 30, 6.0, "Ada", "“elsewhere.sgy” is none of this survey")]
    [InlineData(Line, 20, 6.0, 30, 6.0, " ", "your name: it is missing")]
    public void What_cannot_be_is_refused_in_one_sentence(string line, int first, double firstDepth, int last, double lastDepth, string who, string sentence)
    {
        var desk = new SeabedDesk(OpenedResults.Open(small.Folder), new Visitors(null));
        Assert.Contains(sentence, Assert.Throws<SurveyException>(() => desk.Lay(line, [(first, firstDepth), (last, lastDepth)], who)).Message);
        Assert.Empty(desk.Laid);
    }

    [Fact]
    public void Who_may_only_look_lays_nothing_and_takes_nothing_back()
    {
        var visitors = new Visitors(null);
        visitors.Note(Visitors.Looking);
        var desk = new SeabedDesk(OpenedResults.Open(small.Folder), visitors);
        Assert.Contains("it may not judge", Assert.Throws<SurveyException>(() => desk.Lay(Line, [(20, 6), (30, 6)], "Ada")).Message);
        Assert.Throws<SurveyException>(() => desk.Forget(Line, default));
    }
}
