using Microsoft.Data.Sqlite;
using Undersand.Storage;

namespace Undersand.Runs.Tests.Storage;

public sealed class WholeFileTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_file_is_written_and_nothing_else_is_left()
    {
        WholeFile.WriteText(_folder["deep/er/note.txt"], "Grüße\n");
        Assert.Equal("Grüße\n"u8.ToArray(), File.ReadAllBytes(_folder["deep/er/note.txt"]));
        Assert.Single(Directory.GetFiles(_folder.Path, "*", SearchOption.AllDirectories));
    }

    [Fact]
    public void Our_own_fault_while_writing_leaves_the_old_file_and_nothing_unfinished()
    {
        WholeFile.WriteText(_folder["note.txt"], "old");
        Assert.Throws<InvalidOperationException>(() => WholeFile.Write(_folder["note.txt"], file =>
        {
            file.Write(new byte[100_000]);
            throw new InvalidOperationException();
        }));
        Assert.Equal("old", File.ReadAllText(_folder["note.txt"]));
        Assert.Equal([_folder["note.txt"]], Directory.GetFiles(_folder.Path));
    }

    // The unfinished file is a link to Linux's device that is always full.
    [Theory]
    [InlineData(10)]
    [InlineData(1_000_000)]
    public void A_full_disk_is_said_in_one_sentence_and_leaves_nothing(int bytes)
    {
        if (!File.Exists("/dev/full"))
            Assert.Skip("/dev/full is missing: run on Linux");
        WholeFile.WriteText(_folder["note.txt"], "old");
        File.CreateSymbolicLink(_folder["note.txt.tmp"], "/dev/full");

        var e = Assert.Throws<SurveyException>(() => WholeFile.WriteBytes(_folder["note.txt"], new byte[bytes]));

        Assert.Equal($"{_folder["note.txt"]}: the disk is full; free some space or choose another folder with --out, then run the same command again.", e.Message);
        Assert.Equal("old", File.ReadAllText(_folder["note.txt"]));
        Assert.Equal([_folder["note.txt"]], Directory.GetFiles(_folder.Path));
    }

    // Permissions don't bind a superuser; /proc does.
    [Fact]
    public void A_place_where_nobody_may_write_is_said_in_one_sentence()
    {
        if (!Directory.Exists("/proc/self"))
            Assert.Skip("/proc is missing: run on Linux");
        var e = Assert.Throws<SurveyException>(() => WholeFile.WriteText("/proc/self/results/note.txt", "x"));
        Assert.StartsWith("/proc/self/results/note.txt: ", e.Message);
        Assert.Contains("--out", e.Message);
    }

    [Fact]
    public void A_file_where_a_folder_should_be_is_said_in_one_sentence()
    {
        File.WriteAllText(_folder["results"], "a file");
        var e = Assert.Throws<SurveyException>(() => WholeFile.WriteText(_folder["results/note.txt"], "x"));
        Assert.Contains("note.txt", e.Message);
        Assert.Throws<SurveyException>(() => WholeFile.MakeFolder(_folder["results/maps"]));
        Assert.Equal("a file", File.ReadAllText(_folder["results"]));
    }

    [Fact]
    public void A_folder_where_the_file_should_be_is_said_in_one_sentence()
    {
        Directory.CreateDirectory(_folder["note.txt"]);
        Assert.Throws<SurveyException>(() => WholeFile.WriteText(_folder["note.txt"], "x"));
        Assert.False(File.Exists(_folder["note.txt.tmp"]));
    }

    [Fact]
    public void What_a_killed_run_left_is_taken_away_and_only_that()
    {
        WholeFile.WriteText(_folder["a/whole"], "x");
        File.WriteAllText(_folder["a/half.tmp"], "x");
        File.WriteAllText(_folder["survey.gpkg.tmp"], "x");
        Assert.Equal(2, WholeFile.RemoveUnfinished(_folder.Path));
        Assert.Equal([_folder["a/whole"]], Directory.GetFiles(_folder.Path, "*", SearchOption.AllDirectories));
        Assert.Equal(0, WholeFile.RemoveUnfinished(_folder["not there"]));
    }

    // SQLite's result codes: https://www.sqlite.org/rescode.html; errno 30 EROFS, 28 ENOSPC, 122 EDQUOT: Linux errno.h.
    [Theory]
    [InlineData(13, "the disk is full")]
    [InlineData(8, "the place is read-only")]
    [InlineData(14, "writing here is not permitted")]
    public void Failures_of_a_database_are_said_the_same_way(int code, string wrong) =>
        Assert.Equal(wrong, WriteFailure.Explain(new SqliteException("?", code))!.Value.Wrong);

    [Theory]
    [InlineData(28, "the disk is full")]
    [InlineData(122, "the disk is full")]
    [InlineData(30, "the place is read-only")]
    [InlineData(unchecked((int)0x80070070), "the disk is full")]
    public void Failures_of_a_file_are_told_by_their_numbers(int number, string wrong) =>
        Assert.Equal(wrong, WriteFailure.Explain(new IOException("?", number))!.Value.Wrong);

    [Fact]
    public void Our_own_fault_is_no_fault_of_the_place() => Assert.Null(WriteFailure.Explain(new InvalidOperationException()));
}
