using System.CommandLine;

namespace Undersand.App;

/// <summary>A command whose help ends with an example.</summary>
internal sealed class CommandWithExample(string name, string description, string example) : Command(name, description)
{
    /// <summary>What someone might type, line by line.</summary>
    public string Example { get; } = example;
}
