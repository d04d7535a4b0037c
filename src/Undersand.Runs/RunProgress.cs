namespace Undersand.Runs;

/// <summary>How far one step has come, how fast it goes and how long it will still take.</summary>
/// <remarks>
/// Holds no clock: times are seconds since whatever start the caller likes, never falling. The rate is the mean over the step so far at
/// first, and forgets the past with a time constant of <see cref="MemorySeconds"/> later: an exponentially weighted mean, so that a
/// few slow tiles neither jerk the time left nor are forgotten at once. What was there already counts as done, not as work.
/// </remarks>
public sealed class RunProgress
{
    /// <summary>Seconds after which the past counts 1/e.</summary>
    public const double MemorySeconds = 15;

    /// <summary>Seconds of work before anything is said of pace and time left. Our own choice.</summary>
    public const double EnoughSeconds = 2;

    private double _weightedAmount, _weightedTime, _worked, _lastTime;

    /// <summary>A step that begins now.</summary>
    /// <param name="step">What is done.</param>
    /// <param name="total">How much there is to do; 0 where that isn't known.</param>
    /// <param name="unit">What is counted, in the plural.</param>
    /// <param name="now">Seconds.</param>
    public RunProgress(string step, double total, string unit, double now)
    {
        Step = step;
        Total = total;
        Unit = unit;
        Begun = now;
        _lastTime = now;
    }

    /// <summary>What is done.</summary>
    public string Step { get; }

    /// <summary>How much there is to do; 0 where that isn't known.</summary>
    public double Total { get; }

    /// <summary>What is counted.</summary>
    public string Unit { get; }

    /// <summary>When the step began, seconds.</summary>
    public double Begun { get; }

    /// <summary>How much is done.</summary>
    public double Done { get; private set; }

    /// <summary>The part that is done, 0 to 1; null where the total isn't known.</summary>
    public double? Fraction => Total > 0 ? Math.Clamp(Done / Total, 0, 1) : null;

    /// <summary>Units a second, smoothed; null before enough was worked.</summary>
    public double? Rate => _worked >= EnoughSeconds && _weightedAmount > 0 ? _weightedAmount / _weightedTime : null;

    /// <summary>Seconds still to go; null before enough was worked.</summary>
    public double? SecondsLeft => Total > 0 && Rate is { } rate ? Math.Max(Total - Done, 0) / rate : null;

    /// <summary>Something more is done.</summary>
    /// <param name="amount">How much more.</param>
    /// <param name="now">Seconds, not before the last time given.</param>
    public void Advance(double amount, double now)
    {
        double passed = Math.Max(now - _lastTime, 0), kept = Math.Exp(-passed / MemorySeconds);
        _weightedAmount = _weightedAmount * kept + amount;
        _weightedTime = _weightedTime * kept + passed;
        _worked += passed;
        _lastTime = now;
        Done += amount;
    }

    /// <summary>Something more was there already.</summary>
    /// <param name="amount">How much more.</param>
    /// <param name="now">Seconds, not before the last time given.</param>
    public void TakeOver(double amount, double now)
    {
        _lastTime = now;
        Done += amount;
    }

    /// <summary>A duration as people say it: “8 s”, “2 min 05 s”, “3 h 20 min”.</summary>
    public static string Duration(double seconds)
    {
        if (seconds < 9.95)
            return $"{Math.Max(seconds, 0):0.0} s";
        var whole = TimeSpan.FromSeconds(Math.Min(Math.Round(seconds), 1e9));
        if (whole.TotalMinutes < 1)
            return $"{whole.Seconds} s";
        return whole.TotalHours < 1 ? $"{whole.Minutes} min {whole.Seconds:00} s" : $"{(long)whole.TotalHours} h {whole.Minutes:00} min";
    }

    /// <summary>Three figures are enough for an amount or a rate: “12,400”, “3.51”.</summary>
    public static string Amount(double value) => value >= 100 ? $"{value:#,0}" : value >= 10 ? $"{value:0.#}" : $"{value:0.##}";
}
