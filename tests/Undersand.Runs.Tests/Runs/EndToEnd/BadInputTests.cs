using System.Collections.Concurrent;
using System.Text;
using Undersand.App;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>What can't be processed: exit code 2, one sentence, and nothing left behind.</summary>
public sealed class BadInputTests : IDisposable
{
    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    public static TheoryData<string> Names() => [.. BadSurvey.All.Select(b => b.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task A_survey_that_is_unusable_ends_with_2_and_one_sentence_and_leaves_nothing(string what)
    {
        Ending ending = await EndingOf(what);
        Assert.Equal((ExitCode.Unusable, 1), (ending.Code, ending.Errors.Length));
        // File, what is wrong, mend.
        Assert.Matches("^[^:]+: .+; .+\\.$", ending.Errors[0]);
        Assert.True(ending.SurveyUntouched && ending.NoResults);
    }

    [Fact]
    public async Task All_sentences_are_the_page_that_was_read()
    {
        var page = new StringBuilder();
        foreach ((string name, _) in BadSurvey.All)
            page.Append(name).Append(":\n  ").AppendJoin("\n  ", (await EndingOf(name)).Errors).Append("\n\n");
        Page.Is("Runs/EndToEnd/BadInput", page.ToString());
    }

    [Fact]
    public void The_started_program_says_it_on_stderr_alone_and_keeps_what_was_in_the_folder()
    {
        string survey = BadSurvey.Make("no seabed", _folder["survey"]), notes = _folder.Write("results/maps/mine.txt", "mine");
        StartedProgram.Ending ending = StartedProgram.Run("process", survey, "--out", _folder["results"]);
        Assert.Equal(ExitCode.Unusable, ending.ExitCode);
        Assert.Contains("no seabed was found", Assert.Single(ending.ErrorLines), StringComparison.Ordinal);
        Assert.Equal([notes], Directory.GetFiles(_folder["results"], "*", SearchOption.AllDirectories));
    }

    [Fact]
    public async Task Results_of_another_survey_are_refused_and_kept()
    {
        string other = SmallSurvey.WriteWithHeaderPositions(_folder["other"], SmallSurvey.OneReceiver), survey = SmallSurvey.WriteWithHeaderPositions(_folder["survey"], SmallSurvey.OneLine);
        Assert.Equal(ExitCode.Done, (await Run(other, _folder["results"])).Code);
        SortedDictionary<string, string> before = FolderBytes.Of(_folder["results"]);
        (int code, string[] errors) = await Run(survey, _folder["results"]);
        Assert.Equal(ExitCode.Unusable, code);
        Assert.Contains("another survey", Assert.Single(errors), StringComparison.Ordinal);
        Assert.Equal(before, FolderBytes.Of(_folder["results"]));
    }

    [Fact]
    public async Task A_read_only_place_is_said_and_left()
    {
        using SmallDisk disk = Mounted(_folder["disk"]);
        disk.MakeReadOnly();
        (int code, string[] errors) = await Run(SmallSurvey.WriteWithHeaderPositions(_folder["survey"], SmallSurvey.OneLine), _folder["disk/results"]);
        Assert.Equal(ExitCode.Unusable, code);
        Assert.Contains("the place is read-only; choose", Assert.Single(errors), StringComparison.Ordinal);
        Assert.False(Directory.Exists(_folder["disk/results"]));
    }

    [Theory]
    [InlineData(64)]
    [InlineData(1500)]
    [InlineData(5000)]
    public void A_disk_that_fills_up_keeps_whole_files_and_the_run_goes_on_once_there_is_room(int kilobytes)
    {
        string survey = SmallSurvey.WriteWithHeaderPositions(_folder["survey"], SmallSurvey.OneLine);
        using SmallDisk disk = Mounted(_folder["disk"], kilobytes);
        StartedProgram.Ending ending = StartedProgram.Run("process", survey, "--out", _folder["disk/results"]);
        Assert.Equal(ExitCode.Unusable, ending.ExitCode);
        Assert.Matches("disk", Assert.Single(ending.ErrorLines));
        string[] left = Directory.GetFiles(_folder["disk"], "*", SearchOption.AllDirectories);
        Assert.DoesNotContain(left, f => f.Contains(".tmp", StringComparison.Ordinal));

        disk.Resize(100_000);
        Assert.Equal((0, ""), StartedProgram.Run("process", survey, "--out", _folder["disk/results"]) is var again ? (again.ExitCode, again.Errors) : default);
        new SurveyRunner().Process(new ProcessRequest(survey, _folder["results"]), new NoProgress(), TestContext.Current.CancellationToken);
        FolderBytes.AssertSameResults(_folder["results"], _folder["disk/results"]);
    }

    private static SmallDisk Mounted(string folder, int kilobytes = 64)
    {
        SmallDisk? disk = SmallDisk.TryMount(folder, kilobytes);
        if (disk is null)
            Assert.Skip("a tiny disk can't be mounted: run as root on Linux where mount is permitted");
        return disk!;
    }

    // How much this machine has differs from machine to machine.
    private static string AnyMachine(string sentence) =>
        System.Text.RegularExpressions.Regex.Replace(sentence, "and [0-9.,]+ [A-Z]+ can be had; a voxel of [0-9.]+ m", "and … can be had; a voxel of … m");

    private sealed record Ending(int Code, string[] Errors, bool SurveyUntouched, bool NoResults);

    private static readonly ConcurrentDictionary<string, Lazy<Task<Ending>>> s_endings = new();

    // Each is tried once, for its own test and for the page.
    private static Task<Ending> EndingOf(string what) => s_endings.GetOrAdd(what, w => new(() => Try(w))).Value;

    private static async Task<Ending> Try(string what)
    {
        using var folder = new TestFolder();
        string survey = BadSurvey.Make(what, folder["survey"]);
        SortedDictionary<string, string> before = FolderBytes.Of(survey);
        (int code, string[] errors) = await Run(survey, folder["results"]);
        return new(code, [.. errors.Select(e => AnyMachine(e.Replace(folder.Path + Path.DirectorySeparatorChar, "", StringComparison.Ordinal)))],
            before.SequenceEqual(FolderBytes.Of(survey)), !Directory.Exists(folder["results"]));
    }

    private static async Task<(int Code, string[] Errors)> Run(string survey, string results)
    {
        using StringWriter output = new(), errors = new();
        int code = await CommandLine.RunAsync(["process", survey, "--out", results], new Session(new SurveyRunner(), output, errors));
        return (code, errors.ToString().ReplaceLineEndings("\n").Split('\n', StringSplitOptions.RemoveEmptyEntries));
    }
}
