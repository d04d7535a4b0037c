using System.Diagnostics;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Runs;

public sealed class ResultsFolderTests : IDisposable
{
    private readonly TestFolder _folder = new();
    private readonly string _survey, _results;

    public ResultsFolderTests()
    {
        _folder.Write("survey/survey.json", "{}");
        _survey = _folder["survey"];
        _results = _folder["out", "results"];
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void The_folder_is_made_with_those_above_it()
    {
        Use(folder => File.WriteAllText(folder.TargetsCsv, "whole"));
        Assert.Equal(["out/results/targets.csv", "survey/survey.json"], _folder.Files());
    }

    [Fact]
    public void A_refused_run_takes_back_what_it_made_and_keeps_what_was_there()
    {
        _folder.Write("out/results/notes.txt", "mine");
        _folder.Write("out/results/targets.csv", "earlier");
        _folder.Write("out/results/run.json", "earlier record");
        _folder.Write("out/results/volume.zarr/0.0", "earlier tile");
        Assert.Throws<SurveyException>(() => Use(folder =>
        {
            File.WriteAllText(folder.Record, "begun");
            _folder.Write("out/results/volume.zarr/sums/1.0", "new tile");
            _folder.Write("out/results/maps/seabed.tif", "new map");
            throw Refusal();
        }));
        Assert.Equal(["out/results/notes.txt", "out/results/run.json", "out/results/targets.csv", "out/results/volume.zarr/0.0", "survey/survey.json"], _folder.Files());
        Assert.Equal("earlier record", File.ReadAllText(_folder["out", "results", "run.json"]));
        Assert.False(Directory.Exists(_folder["out", "results", "maps"]));
        Assert.False(Directory.Exists(_folder["out", "results", "volume.zarr", "sums"]));
    }

    [Fact]
    public void A_refused_run_leaves_no_folder_that_was_not_there()
    {
        Assert.Throws<SurveyException>(() => Use(_ => throw Refusal()));
        Assert.False(Directory.Exists(_folder["out"]));
    }

    [Fact]
    public void A_stopped_run_keeps_whole_files()
    {
        Assert.Throws<OperationCanceledException>(() => Use(_ =>
        {
            _folder.Write("out/results/volume.zarr/1.0", "whole");
            _folder.Write("out/results/volume.zarr/2.0.tmp", "half");
            _folder.Write("out/results/survey.gpkg.tmp-journal", "half");
            throw new OperationCanceledException();
        }));
        Assert.Equal(["out/results/volume.zarr/1.0", "survey/survey.json"], _folder.Files());
    }

    [Fact]
    public void A_full_disk_keeps_whole_files_and_is_said_in_one_sentence()
    {
        var refused = Assert.Throws<SurveyException>(() => Use(_ =>
        {
            _folder.Write("out/results/volume.zarr/1.0", "whole");
            _folder.Write("out/results/volume.zarr/2.0.tmp", "half");
            throw new IOException("No space left on device", 28);
        }));
        Assert.Contains("the disk is full", refused.Message, StringComparison.Ordinal);
        Assert.Equal(["out/results/volume.zarr/1.0", "survey/survey.json"], _folder.Files());
    }

    [Fact]
    public void What_a_killed_run_left_half_written_is_deleted_and_nothing_else()
    {
        string[] stale = ["volume.zarr/0.0.tmp", "maps/seabed.tif.tmp", "survey.gpkg.tmp", "survey.gpkg.tmp-journal", "undersand.lock.tmp", "maps.tmp/a.tif", "volume.zarr/sums.tmp/0"];
        string[] kept = ["volume.zarr/0.0", "my-own.tmp", "sub/other.tmp"];
        foreach (string file in stale.Concat(kept))
            _folder.Write("out/results/" + file, "x");
        Use(_ => { });
        Assert.Equal(kept.Select(f => "out/results/" + f).Append("survey/survey.json").Order(StringComparer.Ordinal), _folder.Files());
    }

    [Fact]
    public void A_file_is_no_folder()
    {
        string file = _folder.Write("taken", "x");
        Assert.Contains("it is a file", Assert.Throws<SurveyException>(() => Use(_ => { }, file)).Message, StringComparison.Ordinal);
        Assert.Throws<SurveyException>(() => Use(_ => { }, Path.Combine(file, "below")));
        Assert.Equal("x", File.ReadAllText(file));
    }

    [Theory]
    [InlineData("survey")]
    [InlineData("survey/")]
    [InlineData("survey/results")]
    [InlineData("elsewhere/../survey/deep/results")]
    public void The_survey_is_never_written_to(string results)
    {
        var refused = Assert.Throws<SurveyException>(() => Use(_ => { }, Path.Combine(_folder.Path, results)));
        Assert.Contains("never written to", refused.Message, StringComparison.Ordinal);
        Assert.Equal(["survey/survey.json"], _folder.Files());
    }

    [Fact]
    public void The_survey_is_not_written_to_through_a_link_either()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "making a link needs a privilege there");
        Directory.CreateSymbolicLink(_folder["link"], _survey);
        Assert.Throws<SurveyException>(() => Use(_ => { }, _folder["link"]));
        Assert.Throws<SurveyException>(() => Use(_ => { }, _folder["link", "results"]));
        Assert.Throws<SurveyException>(() => ResultsFolder.Use<int>(_folder["survey", "r"], _folder["link"], _ => 0));
        Assert.Equal(["survey.json"], Directory.GetFileSystemEntries(_survey).Select(Path.GetFileName));
    }

    [Fact]
    public void A_folder_whose_name_begins_alike_is_another_folder()
    {
        Use(_ => { }, _survey + "-results");
        Assert.True(Directory.Exists(_survey + "-results"));
    }

    [Fact]
    public void Results_of_another_survey_are_refused_and_left_alone()
    {
        Directory.CreateDirectory(_results);
        RunRecordTests.Example().Write(_folder["out", "results", "run.json"]);
        byte[] before = File.ReadAllBytes(_folder["out", "results", "run.json"]);
        // The same settings file alone doesn't make it the same survey.
        HashedInput[] others = [new("line-01.sgy", 5, new string('c', 64)), new("survey.json", 77, new string('b', 64))];
        var refused = Assert.Throws<SurveyException>(() => Use(folder => folder.RefuseAnotherSurvey(others)));
        Assert.Contains("another survey, “Gull Flats – “block C””", refused.Message, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(_folder["out", "results", "run.json"]));
    }

    [Fact]
    public void The_same_survey_with_a_line_more_or_a_file_renamed_is_welcome()
    {
        Directory.CreateDirectory(_results);
        RunRecordTests.Example().Write(_folder["out", "results", "run.json"]);
        Use(folder => folder.RefuseAnotherSurvey([new("renamed.sgy", 123_456, new string('a', 64)), new("line-02.sgy", 5, new string('c', 64))]));
    }

    [Theory]
    [InlineData("ro", "read-only")]
    [InlineData("full", "the disk is full")]
    public void A_disk_that_takes_nothing_is_refused_in_one_sentence(string kind, string words)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "needs a small file system of its own, made with mount on Linux");
        using SmallDisk? disk = SmallDisk.TryMount(_folder["disk"]);
        Assert.SkipWhen(disk is null, "needs the right to mount a small file system: run the tests as root, or in a container that allows it");
        if (kind == "ro")
            disk!.MakeReadOnly();
        else
            disk!.Fill();
        var refused = Assert.Throws<SurveyException>(() => Use(_ => Assert.Fail("the work must not begin"), _folder["disk", "results"]));
        Assert.Contains(words, refused.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(_folder.Files(), f => f.Contains("results", StringComparison.Ordinal));
        Assert.False(Directory.Exists(_folder["disk", "results"]));
    }

    private static SurveyException Refusal() => new("line.sgy", null, "it is broken", "mend it");

    private void Use(Action<ResultsFolder> work, string? results = null) => ResultsFolder.Use(results ?? _results, _survey, folder =>
    {
        work(folder);
        return 0;
    });
}
