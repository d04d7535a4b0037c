using Undersand.Runs;

namespace Undersand.App.Screen;

/// <summary>Progress as plain lines: at most one in two seconds, and one at each step's end.</summary>
/// <param name="output">Where to.</param>
/// <param name="clock">Seconds, rising.</param>
internal sealed class PlainProgress(TextWriter output, Func<double> clock) : IProgressSink
{
    /// <summary>Seconds between two lines of one step.</summary>
    public const double Pause = 2;

    private readonly Lock _gate = new();
    private RunProgress? _step;
    private double _nextLine;

    public void Begin(string step, double total, string unit)
    {
        lock (_gate)
        {
            EndStep();
            double now = clock();
            _step = new RunProgress(step, total, unit, now);
            _nextLine = now + Pause;
        }
    }

    public void Advance(double amount = 1) => Tell((step, now) => step.Advance(amount, now));

    public void TakeOver(double amount = 1) => Tell((step, now) => step.TakeOver(amount, now));

    private void Tell(Action<RunProgress, double> tell)
    {
        lock (_gate)
        {
            if (_step is null)
                return;
            double now = clock();
            tell(_step, now);
            if (now < _nextLine)
                return;
            _nextLine = now + Pause;
            output.WriteLine(ProgressWords.UnderWay(_step));
        }
    }

    public void Message(string text)
    {
        lock (_gate)
            output.WriteLine(text);
    }

    /// <summary>The last step is over too.</summary>
    public void Complete()
    {
        lock (_gate)
            EndStep();
    }

    private void EndStep()
    {
        if (_step is not null)
            output.WriteLine(ProgressWords.Over(_step, clock()));
        _step = null;
    }
}
