using Undersand.Runs.Tests.Support;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>What one can live with: the rest is processed, the ball is found, and a caution says so in the outcome, the record and the report.</summary>
public sealed class FlawedInputTests : IDisposable
{
    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_dead_receiver_is_left_out() =>
        AssertLivesWith("Dead or silent receivers were left out: 2", line => new ChangedLine(line)
        {
            ChangeSamples = (raw, _) => { raw.AsSpan(line.SampleCount, line.SampleCount).Clear(); return raw; },
        });

    [Fact]
    public void Three_pings_in_ten_may_be_missing()
    {
        var random = new Random(3);
        AssertLivesWith("Ping numbers are missing", line => new ChangedLine(line) { Kept = [.. Enumerable.Range(0, line.PingCount).Where(_ => random.NextDouble() >= 0.3)] }, SmallSurvey.TwoLines);
    }

    // Away from the ball, whose middle is at 3.63 m.
    [Fact]
    public void A_gap_may_be_in_the_middle() =>
        AssertLivesWith("gaps along the track of up to 1.", line => new ChangedLine(line) { Kept = [.. Enumerable.Range(0, line.PingCount).Where(p => line.PingAt(p).Source.Easting - SmallSurvey.East is < 5.2 or > 6.8)] });

    [Fact]
    public void An_empty_recording_is_named()
    {
        SmallSurvey.Write(_folder["survey"], SmallSurvey.OneLine);
        File.WriteAllText(_folder["survey", "line-07.sgy"], "");
        AssertFound("line-07.sgy: Not processed: empty.");
    }

    [Fact]
    public void A_line_without_seabed_is_left_out_and_named()
    {
        SmallSurvey.WriteWithHeaderPositions(_folder["survey"], SmallSurvey.OneLine);
        var random = new Random(1);
        SurveyFolderWriter.WriteRecording(_folder["survey"], new ChangedLine(SmallSurvey.OneLine.Lines[0]) { Name = "line-02.sgy", ChangeSamples = (raw, _) => [.. raw.Select(_ => random.NextSingle() - 0.5f)] }, SmallSurvey.OneLine.Survey.Waveform);
        AssertFound("line-02.sgy: No seabed was found on this line, so it was left out.");
    }

    private void AssertLivesWith(string caution, Func<ISurveyLine, ChangedLine> change, Undersand.Simulation.SimulatedSurvey? survey = null)
    {
        var made = survey ?? SmallSurvey.OneLine;
        SmallSurvey.Write(_folder["survey"], made);
        var lines = made.Lines.Select(change).ToList();
        foreach (ChangedLine line in lines)
            SurveyFolderWriter.WriteRecording(_folder["survey"], line, made.Survey.Waveform);
        SurveyFolderWriter.WritePings(_folder["survey"], lines);
        AssertFound(caution);
    }

    private void AssertFound(string caution)
    {
        RunOutcome outcome = new SurveyRunner().Process(new ProcessRequest(_folder["survey"], _folder["results"]), new NoProgress(), TestContext.Current.CancellationToken);
        Assert.Contains(outcome.Lines, l => l.Contains(caution, StringComparison.OrdinalIgnoreCase));
        FoundTarget ball = FoundTarget.BallIn(_folder["results"]);
        Assert.True(ball.DistanceToBall < 0.06 && Math.Abs(ball.Burial - SmallSurvey.Burial) < 0.03 && ball.Probability > 0.5, $"{ball}");
        RunRecord record = RunRecord.TryRead(_folder["results", "run.json"])!;
        Assert.Contains(record.Cautions, c => $"{c.Where}: {c.Text}".Contains(caution, StringComparison.OrdinalIgnoreCase));
        Assert.Contains(caution.StartsWith("line-", StringComparison.Ordinal) ? caution[(caution.IndexOf(": ", StringComparison.Ordinal) + 2)..] : caution, File.ReadAllText(_folder["results", "report.html"]), StringComparison.OrdinalIgnoreCase);
    }
}
