using System.Diagnostics;
using Spectre.Console;
using Undersand.Runs;

namespace Undersand.App.Screen;

/// <summary>Shows progress the way the screen allows: moving bars where someone looks on, plain lines where output is redirected.</summary>
internal static class ProgressScreen
{
    /// <summary>Does some work and shows how far it has come.</summary>
    public static T Show<T>(TextWriter output, Func<IProgressSink, T> work)
    {
        Func<double> clock = Clock();
        if (SomeoneLooksOn(output))
            return LiveProgress.Show(AnsiConsole.Console, clock, work);
        var plain = new PlainProgress(output, clock);
        T result = work(plain);
        plain.Complete();
        return result;
    }

    private static bool SomeoneLooksOn(TextWriter output) =>
        ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected && AnsiConsole.Profile.Capabilities is { Ansi: true, Interactive: true };

    private static Func<double> Clock()
    {
        var watch = Stopwatch.StartNew();
        return () => watch.Elapsed.TotalSeconds;
    }
}
