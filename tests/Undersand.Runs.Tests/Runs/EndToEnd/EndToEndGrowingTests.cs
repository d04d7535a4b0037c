using Undersand.Runs.Tests.Support;
using Undersand.Simulation;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>A survey that is processed again with every line that comes ends with the image of one that was processed at once, and makes only what a new line has a say in.</summary>
public sealed class EndToEndGrowingTests
{
    [Fact]
    public void Line_by_line_and_all_at_once_the_image_has_the_same_bytes_and_far_tiles_are_kept()
    {
        using var folder = new TestFolder();
        // Two lines, one beside them, and one far to the south-west, which moves the corner that tiles count from.
        SurveyPlan plan = SmallSurvey.Plan(3, SmallSurvey.Array(3));
        PlannedLine far = plan.Lines[0] with { Name = "line-04.sgy", StartEasting = plan.Lines[0].StartEasting - 6, StartNorthing = plan.Lines[0].StartNorthing - 14 };
        SimulatedSurvey made = Simulator.Run(SmallSurvey.Scene(), plan with { Lines = [.. plan.Lines, far] }, seed: 5, degreeOfParallelism: 2, cancellation: TestContext.Current.CancellationToken);
        string survey = SmallSurvey.Write(folder["survey"], made);
        RunRecord Process(SurveyRunner runner, string results, int[] lines, bool linesStillCome = false)
        {
            var request = new ProcessRequest(survey, folder[results]) { Threads = 2, Recordings = [.. lines.Select(l => made.Lines[l - 1].Name)], LinesStillCome = linesStillCome };
            runner.Process(request, new NoProgress(), TestContext.Current.CancellationToken);
            return RunRecord.TryRead(Path.Combine(folder[results], "run.json"))!;
        }
        Process(new SurveyRunner(), "at once", [1, 2, 3, 4]);
        // One program, which remembers; the line in the middle comes later than its name says.
        var program = new SurveyRunner();
        Process(program, "growing", [1, 3]);
        Process(program, "growing", [1, 2, 3]);
        int before = Directory.GetFiles(folder["growing/volume.zarr/.tiles"]).Length;
        Assert.Equal(before, Process(program, "growing", [1, 2, 3, 4]).Timings!.TilesTakenOver);
        IsTheSame("at once", "growing");

        // While lines still come, those that were there stay under the seabed of then, and it is said; then all is made good.
        Process(program, "hasty", [1, 3]);
        HashSet<string> first = Sums();
        RunRecord hasty = Process(program, "hasty", [1, 2, 3, 4], linesStillCome: true);
        int stayed = Sums().Intersect(first).Count();
        Assert.True(hasty.Provisional);
        Assert.Contains(hasty.Cautions, c => c.Text.Contains("Imaged while lines still came", StringComparison.Ordinal));
        RunRecord good = Process(program, "hasty", [1, 2, 3, 4]);
        Assert.False(good.Provisional);
        Assert.DoesNotContain(good.Cautions, c => c.Text.Contains("Imaged while", StringComparison.Ordinal));
        IsTheSame("at once", "hasty");
        Assert.InRange(Sums().Intersect(first).Count(), 0, stayed - 1);

        HashSet<string> Sums() => [.. FolderBytes.Of(folder["hasty/volume.zarr/sum_real"]).Values];

        void IsTheSame(string known, string other)
        {
            SortedDictionary<string, string> expected = FolderBytes.Of(folder[known + "/volume.zarr"]), found = FolderBytes.Of(folder[other + "/volume.zarr"]);
            Assert.Equal(expected.Keys, found.Keys);
            Assert.DoesNotContain(expected.Keys, file => expected[file] != found[file]);
        }
    }
}
