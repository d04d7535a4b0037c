using System.Text;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.App;

public class CommandHelpTests
{
    [Fact]
    public void The_help_of_every_command_is_the_page_that_was_read()
    {
        var page = new StringBuilder();
        foreach (string command in new[] { "", "process", "demo", "open", "report", "simulate", "inspect" })
        {
            StartedProgram.Ending ending = command.Length == 0 ? StartedProgram.Run("--help") : StartedProgram.Run(command, "--help");
            Assert.Equal(0, ending.ExitCode);
            Assert.Empty(ending.Errors);
            page.Append("$ undersand ").Append(command).Append(command.Length == 0 ? "--help\n" : " --help\n").Append(ending.Output).Append('\n');
        }
        Page.Is("App/CommandHelp", page.ToString());
    }

    [Fact]
    public void Without_a_command_the_help_comes() =>
        Assert.Contains("process", StartedProgram.Run().Output, StringComparison.Ordinal);

    [Fact]
    public void The_version_is_one_line() =>
        Assert.Matches(@"^undersand \d+\.\d+\.\d+ \(code [0-9a-f]{16}, \.NET 10[^\n]*\)\n$", StartedProgram.Run("--version").Output);
}
