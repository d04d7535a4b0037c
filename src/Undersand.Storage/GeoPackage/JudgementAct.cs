using NodaTime;

namespace Undersand.Storage.GeoPackage;

/// <summary>One thing someone did in <c>judgements.gpkg</c>. Acts are only ever added; undoing one is an act too.</summary>
/// <param name="Number">From 1, in the order in which they were done.</param>
/// <param name="Said">What was said; for an act that undoes, whose and when it was.</param>
/// <param name="Undoes">The number of the act that this one undoes, or null.</param>
public sealed record JudgementAct(long Number, Saying Said, long? Undoes)
{
    /// <summary>When it was done.</summary>
    public Instant When => Said.When;
}
