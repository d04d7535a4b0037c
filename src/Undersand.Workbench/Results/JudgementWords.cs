namespace Undersand.Workbench.Results;

/// <summary>Judgements as they are said to people.</summary>
internal static class JudgementWords
{
    public static string Of(Verdict verdict) => verdict switch
    {
        Verdict.Accept => "accepted",
        Verdict.Doubt => "in doubt",
        _ => "rejected",
    };

    public static string Of(int priority) => priority switch { 1 => "first", 2 => "next", _ => "last" };
}
