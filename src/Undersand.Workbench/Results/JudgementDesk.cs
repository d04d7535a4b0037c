using System.Security.Cryptography;
using System.Text;
using NodaTime;
using Undersand.Runs.Reporting;
using Undersand.Storage;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Network;

namespace Undersand.Workbench.Results;

/// <summary>Where everyone who looks at these results judges: writes at once, then tells all open pages. Each act refuses with a <see cref="SurveyException"/> where it can't be kept; nothing has changed then.</summary>
internal sealed class JudgementDesk(ResultsShelf shelf, Visitors? visitors = null)
{
    // What belongs to a target lies no farther from it, metres. Our own choice, no source.
    private const double Farthest = 100;

    private readonly IClock _clock = SystemClock.Instance;

    /// <summary>Raised after something was said and is on disk.</summary>
    public event Action? Changed;

    /// <summary>Whether there are results to judge.</summary>
    public bool HasResults => shelf.Now is not null;

    /// <summary>What people make of the survey now.</summary>
    public JudgedSurvey Judged => Results.Judgements.Judged;

    public IReadOnlyDictionary<string, Judgement> Current => Judged.Current;

    /// <summary>The photographs' folder.</summary>
    public PhotographFolder Photographs => new(Results.Folder);

    /// <summary>The act that <see cref="Undo(string)"/> would undo, or null.</summary>
    public JudgementAct? Undoable => Results.Judgements.Undoable(IsOpen);

    public Judgement? Of(string targetId) => Current.GetValueOrDefault(targetId);

    public bool Rejects(Target target) => Of(target.Id)?.Verdict == Verdict.Reject;

    /// <summary>All that was said openly about a target, newest first; blind opinions once their round is over.</summary>
    public IReadOnlyList<JudgementAct> History(string targetId) =>
        [.. Results.Judgements.Acts.Where(a => a.Said.TargetId == targetId && (a.Said is not Judgement { Opinion: Opinion.Second } || Judged.Round is null or { IsOver: true })).Reverse()];

    /// <summary>Changes the judgement that holds for a target. Where two opinions have been held against each other, this is the decision.</summary>
    public void Change(Target target, string who, Func<Judgement, Judgement> change)
    {
        Judgement? before = Of(target.Id);
        bool decided = Judged.Round is { IsOver: true } && Judged.Second.ContainsKey(target.Id);
        Say(before, change(before ?? Blank(target)) with { Place = target.Position, Who = Named(who), When = Now, Opinion = decided ? Opinion.Agreed : Opinion.First });
    }

    /// <summary>Changes the second judge's own judgement of a target.</summary>
    public void ChangeBlind(Target target, Func<Judgement, Judgement> change)
    {
        BlindRound round = Judged.Round is { IsOver: false } running ? running : throw new SurveyException("second opinion", null, "the blind round is over", "judge openly, or begin another round");
        Judgement? before = Judged.Second.GetValueOrDefault(target.Id);
        Say(before, change(before ?? Blank(target)) with { Place = target.Position, Who = round.Who, When = Now, Opinion = Opinion.Second });
    }

    /// <summary>Says that two targets, and all that either was merged with, are one thing.</summary>
    public void Merge(Target target, Target other, string who)
    {
        string[] all = [.. Judged.Group(target.Id).Concat(Judged.Group(other.Id)).Distinct().OrderBy(Order)];
        if (all.Length > Judged.Group(target.Id).Count)
            Say(new Merger(all[0], Results.Targets.FirstOrDefault(t => t.Id == all[0])?.Position ?? target.Position, all[1..], Named(who), Now));
        int Order(string id) => Results.Targets.Any(t => t.Id == id) ? Results.NumberOf(id) : int.MaxValue;
    }

    /// <summary>Takes a target and its likes apart again.</summary>
    public void Part(Target target, string who)
    {
        foreach (Merger merger in Judged.All<Merger>().Where(m => m.TargetId == target.Id || m.Others.Contains(target.Id)).ToArray())
            Say(merger with { Others = [], Who = Named(who), When = Now });
    }

    /// <summary>Says that a target is several things, at these places; none: it is one after all.</summary>
    public void Split(Target target, IReadOnlyList<GridPoint> parts, string who)
    {
        if (parts.Count == 1)
            throw new SurveyException("split", null, "one place is no split", "give two or more, or none to take the split back");
        RequireNear("split", target, parts);
        Say(new Partition(target.Id, target.Position, parts, Named(who), Now));
    }

    /// <summary>Draws a target's outline; no corners take it away.</summary>
    public void Outline(Target target, IReadOnlyList<GridPoint> corners, string who)
    {
        if (corners.Count is 1 or 2)
            throw new SurveyException("outline", null, $"{corners.Count} corners enclose nothing", "give three or more, or none to take the outline away");
        if (HandOutlines.Crosses(corners))
            throw new SurveyException("outline", null, "the outline crosses itself", "give its corners in their order around");
        RequireNear("outline", target, corners);
        Say(new HandOutline(target.Id, target.Position, corners, Named(who), Now));
    }

    /// <summary>Writes down measures; all null take them away.</summary>
    public void Measure(Target target, HandMeasure measure, string who)
    {
        if (new[] { measure.Length, measure.Width, measure.Thickness }.Any(m => m is <= 0 or > 1000) || measure.Burial is < 0 or > 100)
            throw new SurveyException("measure", null, "a size lies above 0 m and a burial from 0 to 100 m", "correct it, or leave it empty");
        Say(measure with { TargetId = target.Id, Place = target.Position, Who = Named(who), When = Now });
    }

    /// <summary>Attaches a picture.</summary>
    public void AddPhotograph(Target target, string named, byte[] bytes, string caption, string who)
    {
        visitors?.Require(Role.Judge);
        string by = Named(who);
        Say(new Photograph(target.Id, target.Position, Photographs.Add(named, bytes), caption.Trim(), false, false, by, Now));
    }

    /// <summary>Takes a picture off, gives it another caption, or lets it into the public version.</summary>
    public void ChangePhotograph(Photograph photograph, string who, Func<Photograph, Photograph> change)
    {
        Photograph after = change(photograph) with { Who = Named(who), When = Now };
        if (after with { Who = photograph.Who, When = photograph.When } != photograph)
            Say(after);
    }

    /// <summary>Says that what was said about a target that is gone is about this one.</summary>
    public void TakeOver(string goneId, GridPoint place, Target target, string who) => Say(new Succession(goneId, place, target.Id, Named(who), Now));

    /// <summary>Begins a blind round and gives its seed, which makes a browser the second judge's.</summary>
    public string BeginRound(string who)
    {
        if (Judged.Round is { IsOver: false } running)
            throw new SurveyException("second opinion", null, $"{running.Who} is judging blind", "wait until that round is over, or end it");
        if (Judged.First.Values.Any(j => string.Equals(j.Who, Named(who), StringComparison.OrdinalIgnoreCase)))
            throw new SurveyException("second opinion", null, $"{Named(who)} has judged openly and knows the first opinion", "let somebody else judge blind");
        var round = new BlindRound(Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16)), false, Named(who), Now);
        Say(round);
        return round.Seed;
    }

    /// <summary>Ends the round: from now on both opinions may be seen.</summary>
    public void EndRound()
    {
        if (Judged.Round is { IsOver: false } round)
            Say(round with { IsOver = true, When = Now });
    }

    /// <summary>What the public version says of itself.</summary>
    public void SetPublicWords(string title, string contact, string who)
    {
        if ((Judged.PublicWords?.Title ?? "") != title.Trim() || (Judged.PublicWords?.Contact ?? "") != contact.Trim())
            Say(new PublicWords(title.Trim(), contact.Trim(), who.Trim(), Now));
    }

    /// <summary>The targets in the second judge's order: by chance, but the same each time.</summary>
    public IReadOnlyList<Target> Shuffled(string seed) => [.. Results.Targets.OrderBy(t => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(seed + t.Id))), StringComparer.Ordinal)];

    /// <summary>Undoes the newest open act that still stands; null where there is none.</summary>
    public JudgementAct? Undo(string who) => Undo(who, IsOpen);

    /// <summary>Undoes the second judge's newest judgement; null where there is none.</summary>
    public JudgementAct? UndoBlind() => Judged.Round is { IsOver: false } round ? Undo(round.Who, s => s is Judgement { Opinion: Opinion.Second } j && j.Who == round.Who) : null;

    private OpenedResults Results => shelf.Shown.Results;

    private Instant Now => _clock.GetCurrentInstant();

    private Judgement Blank(Target target) => new(target.Id, target.Position, null, null, "", "", Now);

    // What has been seen can't be unseen, so rounds are not undone; and nobody undoes the second judge's judgements for them.
    private static bool IsOpen(Saying said) => said is not BlindRound and not Judgement { Opinion: Opinion.Second };

    private JudgementAct? Undo(string who, Func<Saying, bool> mayBe)
    {
        visitors?.Require(Role.Judge);
        JudgementAct? undone = Results.Judgements.Undo(Named(who), Now, mayBe);
        if (undone is not null)
            Changed?.Invoke();
        return undone;
    }

    private void Say(Judgement? before, Judgement after)
    {
        // The same by another is said anew: it has their name then.
        if (before is null ? after.IsEmpty : after with { Place = before.Place, When = before.When } == before)
            return;
        Say(after);
    }

    // Every act goes through here, or through undoing.
    private void Say(Saying said)
    {
        visitors?.Require(Role.Judge);
        Results.Judgements.Say(said);
        Changed?.Invoke();
    }

    private static void RequireNear(string what, Target target, IReadOnlyList<GridPoint> places)
    {
        foreach (var (i, place) in places.Index())
            if (place.HorizontalDistanceTo(target.Position) is > Farthest and var away)
                throw new SurveyException(what, $"place {i + 1}", $"it lies {Numbers.Fixed(away, 0)} m from the target", $"give eastings and northings within {Farthest} m of it");
    }

    /// <summary>Who says something.</summary>
    /// <exception cref="SurveyException">Nobody does.</exception>
    internal static string Named(string who) => who.Trim() is { Length: > 0 } name ? name : throw new SurveyException("your name", null, "it is missing", "say who you are, since everything said here names who said it");
}
