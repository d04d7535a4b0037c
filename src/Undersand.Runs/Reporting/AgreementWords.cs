namespace Undersand.Runs.Reporting;

/// <summary>How far two judges agree, in a sentence.</summary>
internal static class AgreementWords
{
    public static string Of(Agreement agreement)
    {
        if (agreement.Count == 0)
            return "No target has a verdict of both judges, so there is nothing to compare.";
        string same = $"Of {Numbers.Count(agreement.Count, "target", "targets")} that both judged, they said the same of {Numbers.Percent(agreement.Same)}.";
        if (agreement.Kappa is not { } kappa || agreement.Interval is not { } interval)
            return same + " Cohen’s kappa is not defined where both always said the same one thing.";
        return $"{same} Cohen’s kappa is {Numbers.Fixed(kappa.Value, 2)} (95 %: {Numbers.Fixed(interval.Low, 2)} to {Numbers.Fixed(interval.High, 2)}; 0 is chance, 1 full agreement){(agreement.Count < 30 ? ". With so few targets the interval is rough" : "")}.";
    }
}
