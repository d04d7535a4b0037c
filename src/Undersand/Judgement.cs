using NodaTime;

namespace Undersand;

/// <summary>What someone made of a target.</summary>
/// <param name="TargetId">The target's id when it was judged.</param>
/// <param name="Place">Where the target lay when it was judged, so that the judgement finds it again should its id change.</param>
/// <param name="Verdict">Accept, doubt or reject; null where only noted or ranked.</param>
/// <param name="Priority">1 first, 3 last; null where not given.</param>
/// <param name="Note">Free words; may be empty.</param>
/// <param name="Who">Who said so.</param>
/// <param name="When">When, UTC.</param>
public sealed record Judgement(string TargetId, GridPoint Place, Verdict? Verdict, int? Priority, string Note, string Who, Instant When) : Saying(TargetId, Place, Who, When)
{
    /// <summary>In what standing it was said.</summary>
    public Opinion Opinion { get; init; }

    /// <inheritdoc/>
    public override bool IsEmpty => Verdict is null && Priority is null && Note.Length == 0;

    /// <inheritdoc/>
    public override string Slot => Opinion == Opinion.Second ? $"second opinion of {Who}" : $"judgement {Opinion}";
}
