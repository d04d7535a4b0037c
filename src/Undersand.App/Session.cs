using System.CommandLine;
using Undersand.App.Screen;
using Undersand.Runs;

namespace Undersand.App;

/// <summary>One call of the program: what does the work, where it speaks to, and how each way of ending is said.</summary>
public sealed class Session
{
    /// <param name="runner">What does the work.</param>
    /// <param name="output">Progress and results.</param>
    /// <param name="errors">The one sentence where something can't be used.</param>
    public Session(ISurveyRunner runner, TextWriter output, TextWriter errors)
    {
        Runner = runner;
        Output = output;
        Errors = errors;
    }

    /// <summary>What does the work.</summary>
    public ISurveyRunner Runner { get; }

    /// <summary>Progress and results.</summary>
    public TextWriter Output { get; }

    /// <summary>The one sentence where something can't be used.</summary>
    public TextWriter Errors { get; }

    /// <summary>Shows where a fault of our own happened.</summary>
    public Option<bool> Debug { get; } = new("--debug") { Description = "On a fault of our own, show where it happened.", Recursive = true };

    /// <summary>Does a command's work with progress on the screen, prints its outcome, and turns every way of ending into an exit code.</summary>
    /// <param name="parsed">The arguments.</param>
    /// <param name="results">What the work writes to, as the user named it.</param>
    /// <param name="resumes">Whether the same command goes on where it stopped.</param>
    /// <param name="work">The command.</param>
    public int Do(ParseResult parsed, string results, bool resumes, Func<ISurveyRunner, IProgressSink, CancellationToken, RunOutcome> work)
    {
        using var signals = new StopSignals(() => Output.WriteLine("Stopping after what is in hand; once more stops at once."));
        try
        {
            RunOutcome outcome = ProgressScreen.Show(Output, sink => work(Runner, sink, signals.Token));
            Print(outcome);
            return ExitCode.Done;
        }
        catch (OperationCanceledException) when (signals.Token.IsCancellationRequested)
        {
            Errors.WriteLine(resumes
                ? "Stopped; what is done so far is kept, and the same command takes it up again."
                : "Stopped; the same command starts again from the beginning.");
            return ExitCode.Stopped;
        }
#pragma warning disable CA1031 // The one place where every other fault ends: as a short message instead of a crash.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            return Say(parsed, fault, results);
        }
    }

    /// <summary>Serves until told to stop, which is the way it is meant to end.</summary>
    /// <param name="parsed">The arguments.</param>
    /// <param name="serve">The command.</param>
    public async Task<int> ServeAsync(ParseResult parsed, Func<CancellationToken, Task> serve)
    {
        using var signals = new StopSignals(() => { });
        try
        {
            await serve(signals.Token);
            return ExitCode.Done;
        }
        catch (OperationCanceledException) when (signals.Token.IsCancellationRequested)
        {
            return ExitCode.Done;
        }
#pragma warning disable CA1031 // As above.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            return Say(parsed, fault, "results");
        }
    }

    /// <summary>Says in one line that something can't be used.</summary>
    public void Refuse(string sentence) => Errors.WriteLine(sentence);

    private int Say(ParseResult parsed, Exception fault, string results)
    {
        if (DiskFaults.Explain(fault, results) is { } refused)
        {
            Refuse(refused.Message);
            return ExitCode.Unusable;
        }
        Errors.WriteLine($"This is a fault of Undersand's own ({fault.GetType().Name}: {fault.Message.ReplaceLineEndings(" ").TrimEnd('.')}).");
        Errors.WriteLine("Please report it as CONTRIBUTING.md says, with the command and what --debug adds to it.");
        if (parsed.GetValue(Debug))
            Errors.WriteLine(fault);
        return ExitCode.OwnFault;
    }

    private void Print(RunOutcome outcome)
    {
        if (outcome.Lines.Count > 0)
            Output.WriteLine();
        foreach (string line in outcome.Lines)
            Output.WriteLine(line);
        if (outcome.Files.Count == 0)
            return;
        Output.WriteLine();
        Output.WriteLine("Open these:");
        int width = outcome.Files.Max(f => f.Path.Length);
        foreach (FileToOpen file in outcome.Files)
            Output.WriteLine($"  {file.Path.PadRight(width)}  {file.What}");
    }
}
