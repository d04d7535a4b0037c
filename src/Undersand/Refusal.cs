using System.Runtime.ExceptionServices;

namespace Undersand;

/// <summary>For loops over several threads.</summary>
internal static class Refusal
{
    /// <summary>Runs a parallel loop; what a survey is refused for comes out of it as itself.</summary>
    /// <exception cref="SurveyException">One of those that the loop met.</exception>
    public static void AsItself(Action loop)
    {
        try
        {
            loop();
        }
        catch (AggregateException several) when (several.Flatten().InnerExceptions.OfType<SurveyException>().FirstOrDefault() is { } fault)
        {
            ExceptionDispatchInfo.Throw(fault);
        }
    }
}
