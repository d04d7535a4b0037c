using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.App;

/// <summary><c>inspect</c> through the front door, on files of others.</summary>
public class InspectTests
{
    [Theory]
    // As segyio 1.9's own description of its test files has it: 23 inlines by 18 crosslines of 75 two-byte integers, 4 ms apart.
    [InlineData("f3.sgy", "414: 23 ping numbers", "75 samples, 4000 µs apart (250 Hz): 300 ms")]
    [InlineData("f3-lsb.sgy", "414: 23 ping numbers", "integer, 2 bytes (code 3 in the header)")]
    [InlineData("small.sgy", "25: 1 ping number,", "IBM floating point, 4 bytes (code 1 in the header)")]
    [InlineData("trace-header-extension1.sgy", "revision 2.1", "1 extra trace header")]
    public void A_recording_is_described(string file, string one, string other)
    {
        StartedProgram.Ending ending = Inspect(file);
        Assert.Equal((0, ""), (ending.ExitCode, ending.Errors));
        Assert.Contains(one, ending.Output, StringComparison.Ordinal);
        Assert.Contains(other, ending.Output, StringComparison.Ordinal);
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
