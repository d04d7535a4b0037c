namespace Undersand.Simulation;

/// <summary>What a plan must keep to.</summary>
internal static class PlanRules
{
    public static void Check(SurveyPlan plan)
    {
        Require(plan.Lines.Count > 0, "a plan has at least one line");
        Require(plan.Array.Sources.Count > 0 && plan.Array.Receivers.Count > 0, "an array has a source and a receiver");
        Require(plan.SampleInterval > 0 && plan.SampleCount > 0 && plan.PingInterval > 0 && plan.Height > 0, "intervals, counts and height are above 0");
        Require(plan.Waveform.HighFrequency < 0.46 / plan.SampleInterval, $"the waveform's highest frequency, {plan.Waveform.HighFrequency} Hz, is below 0.92 of half the sampling rate");
        Require(plan.Lines.All(l => l.Speed > 0 && l.Length >= 0), "a line has a length and a speed");
    }

    private static void Require(bool holds, string rule)
    {
        if (!holds)
            throw new ArgumentException(rule);
    }
}
