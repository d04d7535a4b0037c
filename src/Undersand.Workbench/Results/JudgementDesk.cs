using NodaTime;
using Undersand.Storage.GeoPackage;

namespace Undersand.Workbench.Results;

/// <summary>Where everyone who looks at these results judges: writes at once, then tells all open pages.</summary>
internal sealed class JudgementDesk(ResultsShelf shelf)
{
    private readonly IClock _clock = SystemClock.Instance;

    /// <summary>Raised after a judgement is on disk.</summary>
    public event Action? Changed;

    public IReadOnlyDictionary<string, Judgement> Current => shelf.Shown.Results.Judgements.Current;

    public JudgementAct? Undoable => shelf.Shown.Results.Judgements.Undoable;

    public Judgement? Of(string targetId) => Current.GetValueOrDefault(targetId);

    /// <summary>All that was said about a target, newest first.</summary>
    public IReadOnlyList<JudgementAct> History(string targetId) => [.. shelf.Shown.Results.Judgements.Acts.Where(a => a.Said.TargetId == targetId).Reverse()];

    /// <summary>Changes what holds for a target.</summary>
    /// <exception cref="SurveyException">The place can't be written to; nothing has changed then.</exception>
    public void Change(Target target, string who, Func<Judgement, Judgement> change)
    {
        Judgement before = Of(target.Id) ?? new Judgement(target.Id, target.Position, null, null, "", who, _clock.GetCurrentInstant());
        Judgement after = change(before) with { Place = target.Position, Who = Named(who), When = _clock.GetCurrentInstant() };
        if (after.Verdict == before.Verdict && after.Priority == before.Priority && after.Note == before.Note)
            return;
        shelf.Shown.Results.Judgements.Judge(after);
        Changed?.Invoke();
    }

    /// <summary>Undoes the newest act that still stands; null where there is none.</summary>
    public JudgementAct? Undo(string who)
    {
        JudgementAct? undone = shelf.Shown.Results.Judgements.Undo(Named(who), _clock.GetCurrentInstant());
        if (undone is not null)
            Changed?.Invoke();
        return undone;
    }

    private static string Named(string who) => who.Trim().Length == 0 ? "someone" : who.Trim();
}
