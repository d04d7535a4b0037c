using Undersand.Runs.Reporting;

namespace Undersand.Runs.Tests.Reporting;

/// <summary>The list of the design's check values, section 9, kept here in its own words so that none can go missing unseen.</summary>
public class CautionTests
{
    public static TheoryData<string> Needed =>
    [
        "unexploded ordnance, and this survey cannot tell", "a hint at most and often wrong", "iron was named iron only in about a third", "Treat every target as possible ordnance until specialists say otherwise", "do not touch, probe, dredge or lift it", "keep off, and tell the competent authority",
        "stop, cover them again", "report to the police and the heritage authority", "Human remains are not to be disturbed without need",
        "Diving, wading and working on tidal flats are to be planned by competent people",
        "Buried cables and pipelines may lie in the area and look like targets",
        "marine mammals and fish", "NMFS-OPR-59, version 2.0", "version 3.0, 89 FR 84872", "No threshold is reproduced here",
        "National law on wrecks, antiquities and the foreshore decides", "a place to look, not a permission to dig",
        "Preservation where it lies is the first option", "may not be traded or irretrievably dispersed",
        "no nautical chart", "not for navigation", "collision rules",
        "Positions of finds can invite looting",
        "Absence of a target is not absence of an object",
        "Gas, peat, shell beds, boulders, fishing gear and modern debris", "Degraded timber may give a weak, a negative or no echo",
        "rests on an assumed speed of sound", "degree of belief under the stated prior", "probabilities are not calibrated",
    ];

    [Theory]
    [MemberData(nameof(Needed))]
    public void Every_caution_stands_in_every_report(string words)
    {
        foreach (SurveyResult result in (SurveyResult[])[ReportScenes.WithoutTargets(), ReportScenes.Void()])
        {
            string page = HtmlReportTests.Words(HtmlReportTests.Html(result)).ReplaceLineEndings(" ");
            Assert.Contains(words, page, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Cautions_come_before_any_position()
    {
        Block[] blocks = [.. Contents.Compose(ReportScenes.Full()).Blocks];
        int danger = Array.FindIndex(blocks, b => b is Notice { Danger: true }), place = Array.FindIndex(blocks, b => b is Figure or Table);
        Assert.InRange(danger, 0, place - 1);
    }
}
