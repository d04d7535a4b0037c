using System.Globalization;
using System.Text.RegularExpressions;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>The files in <c>examples</c> build, run and do what they say.</summary>
public sealed class ExamplesTests(ProcessedSurvey made) : IClassFixture<ProcessedSurvey>
{
    [Fact]
    public void Reading_a_survey_names_its_lines()
    {
        string said = Run("read-a-survey.cs", made.Survey);
        Assert.Contains("Tern Bank, trial, EPSG:32631", said, StringComparison.Ordinal);
        Assert.Matches(@"(?m)^line-01\.sgy: \d+ pings of 5 receivers over [78]\.\d m, from 2026-05-04T09:30:00Z$", said);
        Assert.Contains("line-02.sgy: ", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Reading_results_names_the_targets_of_the_list_and_the_looks_at_them()
    {
        string[] said = Run("read-results.cs", made.Results).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        string[] ids = [.. File.ReadLines(made["targets.csv"]).Skip(1).Select(row => row.Split(',')[0])];
        Assert.NotEmpty(ids);
        Assert.Equal(ids.Order(), said.Skip(1).Where(l => !l.StartsWith(' ')).Select(l => l.Split(':')[0]).Order());
        Assert.Contains(said, l => Regex.IsMatch(l, @"^  line-01\.sgy, \w+: amplitude 0\.\d+ from [1-9]\d* traces$"));
    }

    [Fact]
    public void A_ball_in_the_sand_is_found_within_two_voxels_of_the_truth()
    {
        Match first = Regex.Match(Run("find-a-ball.cs"), @"^T-\S+: (\S+) m east, (\S+) m north, top at (\S+) m, ");
        Assert.True(first.Success);
        double[] found = [.. first.Groups.Values.Skip(1).Select(g => double.Parse(g.Value, CultureInfo.InvariantCulture))];
        Assert.All(found.Zip([3.60, 0.30, 0.40]), pair => Assert.Equal(pair.Second, pair.First, 0.14));
    }

    private static string Run(string file, params string[] args)
    {
        StartedProgram.Ending ending = StartedProgram.RunExample(file, args);
        Assert.True(ending.ExitCode == 0, ending.Output + ending.Errors);
        return ending.Output;
    }
}
