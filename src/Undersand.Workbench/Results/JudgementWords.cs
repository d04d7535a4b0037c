using Undersand.Runs.Reporting;

namespace Undersand.Workbench.Results;

/// <summary>Judgements as they are said to people.</summary>
internal static class JudgementWords
{
    public static string Of(Verdict verdict) => SayingWords.Of(verdict);

    public static string Of(int priority) => SayingWords.Of(priority);

    public static string Of(Saying said) => SayingWords.Of(said);
}
