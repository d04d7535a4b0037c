using System.Text.RegularExpressions;
using NodaTime;
using Undersand.Runs.Reporting;

namespace Undersand.Runs.Tests.Reporting;

/// <summary>Magnetics and finds in the report: there where they were given, and said no stronger than they are.</summary>
public class GivenPagesTests
{
    private static readonly SurveyResult _given = ReportScenes.WithGiven();
    private static readonly Lazy<string> _words = new(() => HtmlReportTests.Words(HtmlReportTests.Html(_given)));

    [Fact]
    public void Without_them_the_report_is_as_it_was()
    {
        Assert.Empty(GivenPages.Blocks(ReportScenes.Full()));
        Assert.Empty(Summary.Searched(ReportScenes.Full()));
    }

    [Theory]
    [InlineData(true, false, "Magnetics", 2)]
    [InlineData(false, true, "Finds", 3)]
    [InlineData(true, true, "Magnetics and finds", 3)]
    public void Each_is_shown_without_the_other(bool magnetics, bool finds, string heading, int tablesAndFigures)
    {
        Block[] blocks = [.. GivenPages.Blocks(_given with { Magnetics = magnetics ? _given.Magnetics : [], Outcomes = finds ? _given.Outcomes : [] })];
        Assert.Equal(heading, Assert.IsType<Heading>(blocks[0]).Text);
        Assert.Equal(tablesAndFigures, blocks.Count(b => b is Table or Figure));
        Assert.Equal(magnetics, blocks.OfType<Notice>().Any());
        Assert.Equal(magnetics, blocks.OfType<Table>().Any(t => t.Columns.Any(c => c.Unit == "nT")));
    }

    [Fact]
    public void A_find_stands_with_its_place_depth_and_nearest_target()
    {
        Target first = _given.Targets[0];
        string at = FormattableString.Invariant($"{first.Position.Easting + 0.3:F2} | {first.Position.Northing + 0.2:F2}");
        Assert.Contains($"F1 | {at} | 0.5 | object (iron) | 0.8 | shot, left in place | 1 | 0.4", _words.Value, StringComparison.Ordinal);
        Assert.Contains("| 2 | nothing | 0.5 | – | 2 | 1.2", _words.Value, StringComparison.Ordinal);
        Assert.Contains("natural (stone) | 0.6 | boulder <b> |", _words.Value, StringComparison.Ordinal);
        Assert.Contains("4 places were searched by people: a thing made by people was found in 1, something natural was found in 1, nothing was found in 2.", _words.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void A_target_stands_with_the_find_and_the_strongest_residual_near_it()
    {
        Table table = GivenPages.Blocks(_given).OfType<Table>().Last();
        IReadOnlyList<string> first = table.Rows[0], second = table.Rows[1];
        Assert.Equal(["1", "F1: object (iron) to 0.8 m", "0.4"], [first[0], first[2], first[3]]);
        Assert.Equal(["2", "F2: nothing to 0.5 m", "1.2"], [second[0], second[2], second[3]]);
        var near = _given.Magnetics.Where(m => m.Reading.Position.HorizontalDistanceTo(_given.Targets[0].Position) <= 3).MaxBy(m => Math.Abs(m.ResidualNanotesla));
        Assert.Equal(FormattableString.Invariant($"+{near.ResidualNanotesla:F0}"), first[4]);
        Assert.Equal(FormattableString.Invariant($"{near.Reading.Position.HorizontalDistanceTo(_given.Targets[0].Position):F1}"), first[5]);
    }

    [Fact]
    public void A_find_or_a_reading_far_from_all_targets_is_ascribed_to_none()
    {
        SurveyResult far = _given with { Magnetics = [.. _given.Magnetics.Where(m => m.Line == 6)], Outcomes = [_given.Outcomes[3]] };
        Block[] blocks = [.. GivenPages.Blocks(far)];
        Assert.Single(blocks.OfType<Table>());
        Assert.Contains("There is neither a find nor a reading within 3 m of any target", blocks.OfType<Paragraph>().Last().Text, StringComparison.Ordinal);
        Assert.Contains("Beyond this map lie 60 readings and 1 find.", blocks.OfType<Figure>().Single().Caption, StringComparison.Ordinal);
    }

    [Fact]
    public void The_nearer_of_two_places_of_a_target_counts()
    {
        SurveyResult line = ReportScenes.OneLine();
        GridPoint other = line.Targets[1].Alternative!.Value;
        Table finds = GivenPages.Blocks(line with { Outcomes = [new(other.Easting, other.Northing, 1, 1, OutcomeKind.Object, "", "")] }).OfType<Table>().First();
        Assert.Equal(["2", "0.0"], finds.Rows[0].TakeLast(2));
    }

    [Fact]
    public void A_residual_that_does_not_stand_out_has_no_number_and_no_triangle()
    {
        MagneticPoint[] quiet = [.. _given.Magnetics.Select(m => m with { MedianNanotesla = m.Reading.TotalFieldNanotesla - 0.4 })];
        Block[] blocks = [.. GivenPages.Blocks(_given with { Magnetics = quiet, Outcomes = [] })];
        Assert.All(blocks.OfType<Table>().Single().Rows, row => Assert.Equal("below 1.8", row[2]));
    }

    [Theory]
    [InlineData("no base station")]
    [InlineData("ordnance")]
    [InlineData("need not lie over its cause")]
    [InlineData("No residual is no leave to touch anything")]
    [InlineData("An empty hole says nothing about what lies below it")]
    [InlineData("A hole that ends above a target’s top says nothing about that target")]
    public void What_they_cannot_say_is_said(string words) => Assert.Contains(words, _words.Value, StringComparison.Ordinal);

    [Theory]
    [InlineData(new[] { 0.1, -0.2, 0.1, 50 }, 1)]
    [InlineData(new[] { 1.0, -2, 3, -400, 1 }, 3 * 1.4826 * 2)]
    [InlineData(new double[0], 1)]
    public void What_stands_out_is_measured_against_the_median_size(double[] residuals, double from) =>
        Assert.Equal(from, MagneticPoint.StandsOutFrom([.. residuals.Select(r => new MagneticPoint(new(NodaConstants.UnixEpoch, new(0, 0, 0), r), 1, 0))]), 9);

    [Fact]
    public void Above_and_below_differ_by_more_than_colour()
    {
        Drawing One(double residual)
        {
            var drawing = new Drawing(10, 10);
            GivenMarks.Reading(drawing, new(5, 5), residual, 1);
            return drawing;
        }
        static string Path(Drawing d) => Regex.Match(d.ToSvg("t"), "<path [^>]*d=\"([^\"]*)\"").Groups[1].Value;
        Assert.NotEqual(Path(One(10)), Path(One(-10)));
        Assert.NotEqual(Path(One(10)), Path(One(100)));
        Assert.Equal(Path(One(100)), Path(One(100_000)));
    }
}
