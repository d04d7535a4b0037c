using NodaTime;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Runs;

public class RunRecordTests
{
    [Fact]
    public void A_record_read_back_and_written_again_is_the_same_bytes()
    {
        RunRecord record = Example();
        byte[] bytes = RunRecordJson.ToBytes(record);
        RunRecord back = RunRecordJson.FromBytes(bytes);
        Assert.Equal(bytes, RunRecordJson.ToBytes(back));
        Assert.Equal(record.Inputs, back.Inputs);
        Assert.Equal(record.Assumptions, back.Assumptions);
        Assert.Equal(record.Cautions, back.Cautions);
        Assert.Equal([0.05, true, null, "vector", 12L], new[] { "voxel_m", "whiten", "max_burial_m", "kernel", "groups" }.Select(name => back.Settings[name]));
        Assert.Equal(record.NewestPing, back.NewestPing);
        Assert.Equal(record.Timings!.StepSeconds, back.Timings!.StepSeconds);
    }

    [Fact]
    public void Only_the_timings_differ_between_two_runs_of_the_same()
    {
        RunRecord one = Example(), other = Example() with
        {
            Timings = new RunTimings(Instant.FromUtc(2030, 1, 1, 0, 0), 99, 1, [new StepTime("a", 1)], 7),
            Settings = Example().Settings.Reverse().ToDictionary(s => s.Key, s => s.Value),
            Inputs = [.. Example().Inputs.Reverse()],
        };
        Assert.NotEqual(RunRecordJson.ToBytes(one), RunRecordJson.ToBytes(other));
        Assert.Equal(RunRecordJson.ToBytes(one with { Timings = null }), RunRecordJson.ToBytes(other with { Timings = null }));
    }

    [Fact]
    public void The_file_is_the_page_that_was_read() =>
        Page.Is("Runs/RunRecord", System.Text.Encoding.UTF8.GetString(RunRecordJson.ToBytes(Example() with { Code = "0123456789abcdef", Runtime = ".NET 10", ProgramVersion = "0.1.0" })), ".json");

    [Theory]
    [InlineData("")]
    [InlineData("{}")]
    [InlineData("[1]")]
    [InlineData("{\"survey\": 7}")]
    [InlineData("not json")]
    public void What_is_no_record_is_read_as_none(string text)
    {
        using var folder = new TestFolder();
        Assert.Null(RunRecord.TryRead(folder.Write("run.json", text)));
        Assert.Contains("run.json is damaged", Assert.Throws<SurveyException>(() => RunRecord.OfFinished(folder.Path)).Message);
    }

    [Fact]
    public void A_record_cut_short_is_damaged_and_a_missing_one_not_finished()
    {
        using var folder = new TestFolder();
        Assert.Contains("these results are not finished", Assert.Throws<SurveyException>(() => RunRecord.OfFinished(folder.Path)).Message);
        byte[] whole = RunRecordJson.ToBytes(Example());
        File.WriteAllBytes(folder["run.json"], whole[..(whole.Length / 2)]);
        Assert.Contains("run.json is damaged", Assert.Throws<SurveyException>(() => RunRecord.OfFinished(folder.Path)).Message);
    }

    [Fact]
    public void A_missing_record_is_none() => Assert.Null(RunRecord.TryRead("there/is/none.json"));

    [Fact]
    public void A_step_that_fails_is_not_written_down()
    {
        var journal = new RunJournal();
        var none = new Dictionary<string, string>();
        Assert.Equal(4, journal.Step("add", none, () => 2 + 2));
        Assert.Throws<SurveyException>(() => journal.Step<int>("fail", none, () => throw new SurveyException("f", null, "w", "m")));
        Assert.Equal("add", Assert.Single(journal.Steps).Name);
        Assert.Equal("add", Assert.Single(journal.Timings(1).StepSeconds).Step);
    }

    [Fact]
    public void Inputs_are_hashed_in_the_order_of_their_names()
    {
        using var folder = new TestFolder();
        folder.Write("b.sgy", "abc");
        folder.Write("casts/1.csv", "");
        IReadOnlyList<HashedInput> inputs = HashedInput.Hash([new InputFile(folder.Path, "casts/1.csv"), new InputFile(folder.Path, "b.sgy")], new NoProgress(), TestContext.Current.CancellationToken);
        // SHA-256 of "abc" and of nothing: FIPS 180-4 examples published by NIST.
        Assert.Equal(
            [new HashedInput("b.sgy", 3, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
             new HashedInput("casts/1.csv", 0, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855")], inputs);
        Assert.True(inputs[0].IsRecording);
        Assert.False(inputs[1].IsRecording);
    }

    internal static RunRecord Example() => new()
    {
        SurveyName = "Gull Flats – “block C”",
        Finished = true,
        Inputs = [new HashedInput("line-01.sgy", 123_456, new string('a', 64)), new HashedInput("survey.json", 77, new string('b', 64))],
        Settings = new Dictionary<string, object?> { ["voxel_m"] = 0.05, ["whiten"] = true, ["max_burial_m"] = null, ["kernel"] = "vector", ["groups"] = 12 },
        Engine = "vector",
        Seeds = new Dictionary<string, long> { ["null_voxels"] = 7 },
        Assumptions = [new Assumption("salinity", "35", "not given; common practice for open sea")],
        Cautions = [new Caution("line-01.sgy", "a receiver is dead and was left out", 3)],
        Steps = [new ProcessingStep("Compress", new Dictionary<string, string> { ["whiten"] = "yes", ["band"] = "4–18 kHz" })],
        NewestPing = Instant.FromUtc(2026, 5, 4, 10, 11, 12),
        Timings = new RunTimings(Instant.FromUtc(2026, 6, 1, 0, 0), 12.3456, 2, [new StepTime("Compress", 1.5)]),
    };
}
