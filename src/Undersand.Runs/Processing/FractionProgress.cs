namespace Undersand.Runs.Processing;

/// <summary>Turns fractions done, told from any thread and in any order, into steps of percent.</summary>
internal sealed class FractionProgress(IProgressSink sink) : IProgress<double>
{
    private readonly Lock _gate = new();
    private double _done;

    public void Report(double value)
    {
        lock (_gate)
        {
            if (value <= _done)
                return;
            sink.Advance(100 * (value - _done));
            _done = value;
        }
    }
}
