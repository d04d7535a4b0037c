using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.App;

/// <summary><c>inspect</c> through the front door, on files of others.</summary>
public class InspectTests
{
    [Theory]
    // As segyio 1.9's own description of its test files has it: 23 inlines by 18 crosslines of 75 two-byte integers, 4 ms apart.
    [InlineData("f3.sgy", "414", "75", "4000 µs")]
    [InlineData("f3-lsb.sgy", "3: integer, 2 bytes", "little-endian", "4000 µs")]
    [InlineData("small.sgy", "25", "50", "1: IBM floating point, 4 bytes")]
    [InlineData("trace-header-extension1.sgy", "2.1", "big-endian", "1000 µs")]
    public void A_recording_is_described(string file, params string[] facts)
    {
        StartedProgram.Ending ending = Inspect(file);
        Assert.Equal((0, ""), (ending.ExitCode, ending.Errors));
        Assert.All(facts, fact => Assert.Matches($@"(?m)^  [^\n]*  {System.Text.RegularExpressions.Regex.Escape(fact)}", ending.Output));
    }

    [Fact]
    public void A_truncated_recording_is_refused_in_one_sentence()
    {
        StartedProgram.Ending ending = Inspect("broken.sgy");
        Assert.Equal(2, ending.ExitCode);
        Assert.Contains("truncated", Assert.Single(ending.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_no_recording_is_refused_in_one_sentence()
    {
        foreach (string file in new[] { "LICENSE", "src", "no-such-file.sgy" })
        {
            StartedProgram.Ending ending = StartedProgram.RunIn(Repository.Root, "inspect", file);
            Assert.Equal((2, ""), (ending.ExitCode, ending.Output));
            Assert.StartsWith(file, Assert.Single(ending.ErrorLines), StringComparison.Ordinal);
        }
    }

    // A relative path, so that it is seen to be the user's working folder that counts.
    private static StartedProgram.Ending Inspect(string file)
    {
        Assert.SkipWhen(Repository.Shared is null, "needs the folder shared, with data/segy in it, beside the repository");
        return StartedProgram.RunIn(Path.Combine(Repository.Shared!, "data", "segy"), "inspect", file);
    }
}
