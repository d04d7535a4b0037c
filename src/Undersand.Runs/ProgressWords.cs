namespace Undersand.Runs;

/// <summary>Progress in words.</summary>
public static class ProgressWords
{
    /// <summary>“Summing: 1,200 of 4,000 tiles (30 %), 41 tiles/s, 1 min 08 s left”.</summary>
    public static string UnderWay(RunProgress step)
    {
        string amount = (step.Fraction, step.Unit) switch
        {
            (null, _) => $"{RunProgress.Amount(step.Done)} {step.Unit}",
            ({ } fraction, "%") => $"{Math.Floor(100 * fraction):0} %",
            ({ } fraction, _) => $"{RunProgress.Amount(step.Done)} of {RunProgress.Amount(step.Total)} {step.Unit} ({Math.Floor(100 * fraction):0} %)",
        };
        return string.Join(", ", new[] { $"{step.Step}: {amount}", Rate(step), Left(step) }.Where(s => s.Length > 0));
    }

    /// <summary>“Summing: 4,000 tiles in 1 min 38 s”.</summary>
    public static string Over(RunProgress step, double now)
    {
        string duration = RunProgress.Duration(now - step.Begun);
        return step.Done > 0 ? $"{step.Step}: {RunProgress.Amount(step.Done)} {step.Unit} in {duration}" : $"{step.Step}: {duration}";
    }

    /// <summary>“41 tiles/s”, or nothing before it is known and where parts of a hundred are all there is to count.</summary>
    public static string Rate(RunProgress step) => step.Rate is { } rate && step.Unit != "%" ? $"{RunProgress.Amount(rate)} {step.Unit}/s" : "";

    /// <summary>“8 s left”, or that it isn't known yet; nothing where it never will be.</summary>
    public static string Left(RunProgress step) => step.SecondsLeft is { } left ? $"{RunProgress.Duration(left)} left" : step.Total > 0 ? "time left not known yet" : "";
}
