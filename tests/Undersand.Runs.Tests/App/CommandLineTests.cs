using Undersand.App;

namespace Undersand.Runs.Tests.App;

/// <summary>The commands with a stand-in for the science, in this process.</summary>
public sealed class CommandLineTests : IDisposable
{
    private readonly StringWriter _output = new(), _errors = new();
    private readonly StandInRunner _runner = new();

    public void Dispose()
    {
        _output.Dispose();
        _errors.Dispose();
    }

    [Theory]
    [InlineData("frobnicate")]
    [InlineData("process")]
    [InlineData("process a")]
    [InlineData("process a b --out c")]
    [InlineData("process a --out b --threads 0")]
    [InlineData("process a --out b --threads 1.5")]
    [InlineData("process a --out b --threads two")]
    [InlineData("process a --out b --threads")]
    [InlineData("process a --out b --voxel 0")]
    [InlineData("process a --out b --voxel nan")]
    [InlineData("process a --out b --voxel -0.1")]
    [InlineData("process a --out b --max-burial inf")]
    [InlineData("process a --out b --engine quantum")]
    [InlineData("process a --out b --without gravity")]
    [InlineData("process a --out b --tape")]
    [InlineData("demo here")]
    [InlineData("simulate scene.json")]
    [InlineData("inspect")]
    public async Task A_command_line_that_makes_no_sense_ends_with_2_and_one_sentence(string line)
    {
        Assert.Equal(ExitCode.Unusable, await Run(line.Split(' ')));
        Assert.Empty(_output.ToString());
        string sentence = Assert.Single(ErrorLines());
        Assert.StartsWith("undersand", sentence, StringComparison.Ordinal);
        Assert.Contains("--help", sentence, StringComparison.Ordinal);
        Assert.DoesNotContain('\t', sentence);
    }

    [Fact]
    public async Task Every_option_of_process_arrives()
    {
        using var folder = new Support.TestFolder();
        string results = folder["r"];
        Assert.Equal(ExitCode.Done, await Run("process", folder["quick"], "--out", results, "--threads", "3", "--voxel", "0.1", "--max-burial", "2.5",
            "--engine", "plain", "--without", "transmission", "--without", "absorption", "--without", "absorption", "--whiten"));
        ProcessRequest asked = _runner.Asked!;
        Assert.Equal((folder["quick"], results, 3, 0.1, 2.5, "plain", true),
            (asked.Survey, asked.Results, asked.Threads, asked.Voxel, asked.MaxBurial, asked.Engine, asked.Whiten));
        Assert.Equal(["absorption", "transmission"], asked.Without);
    }

    [Fact]
    public async Task What_is_not_asked_for_is_left_to_the_survey()
    {
        using var folder = new Support.TestFolder();
        await Run("process", folder["quick"], "--out", folder["r"]);
        Assert.Equal(new ProcessRequest(folder["quick"], folder["r"]), _runner.Asked! with { Without = new ProcessRequest("", "").Without });
        Assert.Equal("vector", _runner.Asked!.Engine);
    }

    [Fact]
    public async Task A_finished_run_names_the_files_to_open()
    {
        using var folder = new Support.TestFolder();
        Assert.Equal(ExitCode.Done, await Run("process", folder["quick"], "--out", folder["r"]));
        Assert.Contains("Summing: 3 tiles in", _output.ToString(), StringComparison.Ordinal);
        Assert.Contains(Path.Combine(folder["r"], "report.html") + "  the report", _output.ToString(), StringComparison.Ordinal);
        Assert.Empty(_errors.ToString());
    }

    [Fact]
    public async Task A_refused_survey_ends_with_2_and_its_sentence_and_leaves_nothing()
    {
        using var folder = new Support.TestFolder();
        Assert.Equal(ExitCode.Unusable, await Run("process", folder["refused"], "--out", folder["r"]));
        Assert.Equal("line-02.sgy, trace 7: the samples are all zero; record it again or leave it out.", Assert.Single(ErrorLines()));
        Assert.Empty(Directory.EnumerateFileSystemEntries(folder.Path));
    }

    [Fact]
    public async Task A_fault_of_our_own_ends_with_1_and_shows_where_only_when_asked()
    {
        using var folder = new Support.TestFolder();
        Assert.Equal(ExitCode.OwnFault, await Run("process", folder["broken"], "--out", folder["r"]));
        Assert.Contains("a promise was broken", _errors.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", _errors.ToString(), StringComparison.Ordinal);
        Assert.Equal(ExitCode.OwnFault, await Run("process", folder["broken"], "--out", folder["r"], "--debug"));
        Assert.Contains("   at ", _errors.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("deep/practice")]
    [InlineData("deep/practice/")]
    public async Task The_truth_of_a_simulation_lies_beside_the_survey_not_in_it(string survey)
    {
        await Run("simulate", "scene.json", "--out", survey);
        Assert.Contains("deep/practice-truth.json", _output.ToString(), StringComparison.Ordinal);
    }

    private Task<int> Run(params string[] args) => CommandLine.RunAsync(args, new Session(_runner, _output, _errors));

    private string[] ErrorLines() => _errors.ToString().Split(Environment.NewLine, StringSplitOptions.RemoveEmptyEntries);
}
