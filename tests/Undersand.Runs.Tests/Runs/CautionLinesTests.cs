using Undersand.Runs.Processing;

namespace Undersand.Runs.Tests.Runs;

public class CautionLinesTests
{
    private static readonly string[] Lines = [.. Enumerable.Range(1, 12).Select(Line)];

    [Fact]
    public void The_same_caution_on_lines_in_a_row_is_said_once_with_the_first_and_the_last() =>
        Assert.Equal(["Caution: line-01.sgy … line-04.sgy: Noisy. (4)"], Said(On("Noisy.", 1, 2, 3, 4)));

    [Fact]
    public void Lines_apart_are_named_one_by_one() =>
        Assert.Equal(["Caution: line-01.sgy, line-02.sgy, line-04.sgy … line-06.sgy: Noisy. (6)"], Said(On("Noisy.", 1, 2, 4, 5, 6, 5)));

    [Fact]
    public void A_line_that_was_left_out_is_not_counted_in()
    {
        string[] said = [.. CautionLines.Of([new Caution(Line(3), "Left out."), .. On("Noisy.", 1, 2, 4)], Lines.Where(l => l != Line(3)), "report.html")];
        Assert.Equal(["Caution: line-03.sgy: Left out.", "Caution: line-01.sgy, line-02.sgy, line-04.sgy: Noisy. (3)"], said);
    }

    [Fact]
    public void Many_places_apart_are_counted() =>
        Assert.Equal(["Caution: line-01.sgy, line-03.sgy, line-05.sgy, line-07.sgy and 2 more: Noisy. (6)"], Said(On("Noisy.", 1, 3, 5, 7, 9, 11)));

    [Fact]
    public void Counts_are_added_up_and_a_single_one_is_not_told() =>
        Assert.Equal(["Caution: line-01.sgy, line-02.sgy: Clipped. (12)", "Caution: survey.json: No date."],
            Said(new Caution(Line(1), "Clipped.", 5), new Caution("survey.json", "No date."), new Caution(Line(2), "Clipped.", 7)));

    [Theory]
    [InlineData(10, 10, "Caution: survey.json: 9.")]
    [InlineData(11, 11, "1 more caution is in results/report.html, under “Flaws met in the data”.")]
    [InlineData(25, 11, "15 more cautions are in results/report.html, under “Flaws met in the data”.")]
    public void The_first_ten_are_said_and_the_others_counted(int cautions, int lines, string last)
    {
        string[] said = Said([.. Enumerable.Range(0, cautions).Select(i => new Caution("survey.json", $"{i}."))]);
        Assert.Equal(lines, said.Length);
        Assert.Equal(last, said[^1]);
    }

    private static string[] Said(params Caution[] cautions) => [.. CautionLines.Of(cautions, Lines, "results/report.html")];

    private static Caution[] On(string text, params int[] lines) => [.. lines.Select(line => new Caution(Line(line), text))];

    private static string Line(int number) => $"line-{number:00}.sgy";
}
