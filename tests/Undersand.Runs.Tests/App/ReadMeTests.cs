using System.CommandLine;
using System.Text.Json;
using System.Text.RegularExpressions;
using Undersand.App;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.App;

/// <summary>What README.md tells people to type is what the program understands.</summary>
public partial class ReadMeTests
{
    private static readonly string Text = File.ReadAllText(Path.Combine(Repository.Root, "README.md")).ReplaceLineEndings("\n");

    [Fact]
    public void Every_command_in_it_is_understood()
    {
        string[] commands = [.. Blocks("sh").SelectMany(block => block.Split('\n')).Select(line => line.Trim()).Where(line => line.Contains("ndersand", StringComparison.Ordinal))];
        Assert.NotEmpty(commands);
        Assert.All(commands, command =>
        {
            string arguments = StartOfProgram().Replace(command, "");
            Assert.NotEqual(command, arguments);
            ParseResult parsed = CommandLine.Tree(new Session(new StandInRunner(), TextWriter.Null, TextWriter.Null)).Parse(arguments);
            Assert.Empty(parsed.Errors.Select(e => $"{command}: {e.Message}"));
        });
        foreach (string command in new[] { "process", "demo", "open", "simulate", "inspect" })
            Assert.Contains(commands, c => StartOfProgram().Replace(c, "").Split(' ')[0] == command);
    }

    [Fact]
    public void Its_test_command_is_the_one_that_ci_runs()
    {
        Assert.Contains("dotnet test", Blocks("sh").Select(b => b.Trim()));
        Assert.Matches(@"(?m)^(?!#).*\bdotnet test\b", File.ReadAllText(Path.Combine(Repository.Root, ".ci", "run")));
    }

    [Fact]
    public void Every_page_it_points_to_is_there()
    {
        string[] links = [.. Link().Matches(Text).Select(m => m.Groups[1].Value).Where(l => !l.StartsWith("http", StringComparison.Ordinal))];
        Assert.NotEmpty(links);
        Assert.All(links, link => Assert.True(Path.Exists(Path.Combine(Repository.Root, link)), link + " is missing"));
    }

    [Fact]
    public void Every_survey_json_in_it_is_one()
    {
        string[] blocks = [.. Blocks("json")];
        Assert.NotEmpty(blocks);
        Assert.All(blocks, block => Assert.StartsWith("EPSG:", JsonDocument.Parse(block).RootElement.GetProperty("crs").GetString(), StringComparison.Ordinal));
    }

    private static IEnumerable<string> Blocks(string language) => Block().Matches(Text).Where(m => m.Groups[1].Value == language).Select(m => m.Groups[2].Value);

    [GeneratedRegex(@"(?s)```(\w+)\n(.*?)```")]
    private static partial Regex Block();

    [GeneratedRegex(@"^(\./undersand|dotnet run --project src/Undersand\.App -c Release --) ?")]
    private static partial Regex StartOfProgram();

    [GeneratedRegex(@"\]\(([^)#]+)\)")]
    private static partial Regex Link();
}
