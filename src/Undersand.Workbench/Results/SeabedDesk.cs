using NodaTime;
using Undersand.Runs.Reporting;
using Undersand.Storage.Surveys;
using Undersand.Workbench.Network;

namespace Undersand.Workbench.Results;

/// <summary>Where people lay the seabed by hand, typed or drawn over the echoes. What they lay is on disk when an act returns; an act refuses with a <see cref="SurveyException"/> where it can't be kept, and nothing has changed then.</summary>
internal sealed class SeabedDesk(OpenedResults results, Visitors visitors)
{
    private const double Deepest = 12_000;
    private static readonly Lock s_gate = new();

    /// <summary>What was laid, in its order: of what covers a ping the last holds.</summary>
    public IReadOnlyList<LaidSeabed> Laid => LaidSeabed.Of(SeabedByHand.Read(results.Folder));

    /// <summary>Lays the seabed of a line straight from place to place; one place is that ping alone.</summary>
    public void Lay(string line, IEnumerable<(int Ping, double Depth)> places, string who)
    {
        visitors.Require(Role.Judge);
        LaidSeabed laid = Propose(line, places, JudgementDesk.Named(who));
        lock (s_gate)
            SeabedByHand.Add(results.Folder, laid.Stretches);
    }

    /// <summary>What laying would keep.</summary>
    public LaidSeabed Propose(string line, IEnumerable<(int Ping, double Depth)> places, string who)
    {
        LineResult on = results.Contents.Lines.FirstOrDefault(l => l.Name == line) ?? throw new SurveyException("line", null, $"“{line}” is none of this survey", "choose one that is");
        (int Ping, double Depth)[] along = [.. places.Distinct().OrderBy(p => p.Ping)];
        if (along.Length == 0)
            throw new SurveyException(line, null, "no place was given", "point at the echoes, or give pings and depths");
        foreach (var (ping, depth) in along)
            Check(on, ping, depth);
        if (along.GroupBy(p => p.Ping).FirstOrDefault(g => g.Count() > 1) is { } twice)
            throw new SurveyException(line, $"ping {twice.Key}", "two depths were given for it", "give one");
        Instant now = SystemClock.Instance.GetCurrentInstant();
        var pairs = along.Length == 1 ? [(along[0], along[0])] : along.Zip(along.Skip(1));
        return new LaidSeabed(line, who.Trim(), now, [.. pairs.Select(p => new SeabedStretch(line, p.Item1.Ping, p.Item1.Depth, p.Item2.Ping, p.Item2.Depth, who.Trim(), now))]);
    }

    /// <summary>Takes back what was laid on a line at a time.</summary>
    public void Forget(string line, Instant when)
    {
        visitors.Require(Role.Judge);
        lock (s_gate)
            SeabedByHand.Forget(results.Folder, s => s.Line == line && s.When == when);
    }

    private static void Check(LineResult line, int ping, double depth)
    {
        if (line.Pings.FirstOrDefault(p => p.Number == ping) is not { } at)
            throw new SurveyException(line.Name, $"ping {ping}", $"the line has pings {line.Pings.Min(p => p.Number)} to {line.Pings.Max(p => p.Number)}", "give one of them");
        string place = $"ping {ping}", source = $"{Numbers.Fixed(at.Source.Depth, 2)} m";
        if (double.IsNaN(depth))
            throw new SurveyException(line.Name, place, $"no seabed below the source, at {source}, can answer so early", "place it farther down");
        if (depth <= at.Source.Depth || depth > Deepest)
            throw new SurveyException(line.Name, place, $"a seabed at {Numbers.Fixed(depth, 2)} m {(depth > Deepest ? "is deeper than any sea" : $"would not lie below the source, at {source}")}", "give its depth below the water surface in metres");
    }
}
