using System.CommandLine;

namespace Undersand.App.Commands;

/// <summary>Options that more than one command takes, and checks that more than one option needs.</summary>
internal static class Arguments
{
    private const int MostThreads = 1024;

    /// <summary><c>--threads</c>.</summary>
    public static Option<int?> Threads()
    {
        var option = new Option<int?>("--threads") { Description = "Threads to use [default: all processors]. The results are the same for any number.", HelpName = "N" };
        option.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && !(int.TryParse(result.Tokens[0].Value, out int n) && n is >= 1 and <= MostThreads))
                result.AddError($"--threads is a whole number from 1 to {MostThreads}, not “{result.Tokens[0].Value}”");
        });
        return option;
    }

    /// <summary>A length in metres, above zero.</summary>
    public static Option<double?> Metres(string name, double most, string description)
    {
        var option = new Option<double?>(name) { Description = description, HelpName = "M" };
        option.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && !(double.TryParse(result.Tokens[0].Value, out double m) && m > 0 && m <= most))
                result.AddError($"{name} is a length in metres above 0, up to {most:0.##}, not “{result.Tokens[0].Value}”");
        });
        return option;
    }
}
