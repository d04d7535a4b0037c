namespace Undersand;

/// <summary>What people make of a survey, as it holds now. Empty sayings are left out.</summary>
/// <remarks>
/// What was said about a target that is gone counts for the target that a person said it is now; of several sayings that would take each other's place, the
/// newest holds. Of judgements, the newest that was said openly holds, be it a first opinion or the decision after two; a blind second opinion never holds
/// by itself.
/// </remarks>
public sealed class JudgedSurvey
{
    private readonly List<Saying> _holding;

    /// <param name="standing">All that was said and not undone, in order.</param>
    public JudgedSurvey(IEnumerable<Saying> standing)
    {
        Saying[] all = [.. standing];
        var successors = all.OfType<Succession>().GroupBy(s => s.TargetId).ToDictionary(g => g.Key, g => g.Last().NewId);
        var latest = new Dictionary<(string, string), (int Order, Saying Said)>();
        for (int i = 0; i < all.Length; i++)
        {
            Saying said = all[i] is Succession ? all[i] : all[i] with { TargetId = Successor(all[i].TargetId) };
            if (said is Merger merger)
                said = merger with { Others = [.. merger.Others.Select(Successor)] };
            latest[(said.TargetId, said.Slot)] = (i, said);
        }
        _holding = [.. latest.Values.Where(l => !l.Said.IsEmpty).OrderBy(l => l.Order).Select(l => l.Said)];
        Round = _holding.OfType<BlindRound>().LastOrDefault();
        First = Latest(_holding.OfType<Judgement>().Where(j => j.Opinion == Opinion.First));
        Second = Latest(_holding.OfType<Judgement>().Where(j => j.Opinion == Opinion.Second && j.Who == Round?.Who));
        Current = Latest(_holding.OfType<Judgement>().Where(j => j.Opinion != Opinion.Second));

        // A chain of successors ends; a ring, which nobody can mean, is left after one turn.
        string Successor(string id)
        {
            for (int n = 0; n < successors.Count && successors.TryGetValue(id, out string? next) && next.Length > 0; n++)
                id = next;
            return id;
        }
    }

    /// <summary>The judgement that holds, by target.</summary>
    public IReadOnlyDictionary<string, Judgement> Current { get; }

    /// <summary>First opinions, by target.</summary>
    public IReadOnlyDictionary<string, Judgement> First { get; }

    /// <summary>The blind opinions of the round's judge, by target; not to be shown before the round is over.</summary>
    public IReadOnlyDictionary<string, Judgement> Second { get; }

    /// <summary>The blind round, running or over, or null.</summary>
    public BlindRound? Round { get; }

    /// <summary>What the public version says of itself, or null.</summary>
    public PublicWords? PublicWords => _holding.OfType<PublicWords>().LastOrDefault();

    /// <summary>Everything that holds, of one kind, oldest first.</summary>
    public IEnumerable<T> All<T>()
        where T : Saying => _holding.OfType<T>();

    /// <summary>What holds for a target, of one kind, oldest first.</summary>
    public IEnumerable<T> Of<T>(string targetId)
        where T : Saying => All<T>().Where(s => s.TargetId == targetId);

    /// <summary>What was said openly about targets that are not among these any more, oldest first.</summary>
    public IEnumerable<Saying> Gone(IReadOnlyList<Target> targets)
    {
        HashSet<string> listed = [.. targets.Select(t => t.Id)];
        return _holding.Where(s => s.TargetId.Length > 0 && s is not Succession and not Judgement { Opinion: Opinion.Second } && !listed.Contains(s.TargetId));
    }

    /// <summary>The targets that are one thing with this one, itself among them; this one alone where it was not merged.</summary>
    public IReadOnlyList<string> Group(string targetId)
    {
        var group = new List<string> { targetId };
        for (int i = 0; i < group.Count; i++)
            foreach (Merger merger in All<Merger>().Where(m => m.TargetId == group[i] || m.Others.Contains(group[i])))
                group.AddRange(merger.Others.Prepend(merger.TargetId).Distinct().Except(group).ToArray());
        return group;
    }

    private static Dictionary<string, Judgement> Latest(IEnumerable<Judgement> judgements)
    {
        var latest = new Dictionary<string, Judgement>(StringComparer.Ordinal);
        foreach (Judgement judgement in judgements)
            latest[judgement.TargetId] = judgement;
        return latest;
    }
}
