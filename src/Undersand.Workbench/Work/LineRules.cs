using Undersand.Runs.Reporting;

namespace Undersand.Workbench.Work;

/// <summary>What to do, and why.</summary>
/// <param name="Do">An instruction: “Repeat line-03.sgy”.</param>
/// <param name="Why">The reason, with its numbers.</param>
/// <param name="Sail">The line to follow.</param>
internal sealed record Advice(string Do, string Why, LineToSail Sail);

/// <summary>When a line needs a look, and when it is worth sailing again. Common practice, no source, for every number here.</summary>
internal static class LineRules
{
    public const double LeastSnrDb = 15, LeastUsed = 0.9, MostBridged = 0.05, MostSilent = 0.05, WidestOfHeight = 0.25, HeightFromOthers = 1.5;

    // A stretch beside the track without its neighbour's sight counts as a gap from here on: shorter ones are turns and drift.
    private const double LeastGapShare = 0.2, Step = 1;

    /// <summary>What needs a look on a line, in few words.</summary>
    /// <param name="q">How good it is.</param>
    /// <param name="unit">What lengths are written in.</param>
    public static IEnumerable<string> Faults(LineQuality q, LengthUnit unit) => Serious(q, unit).Concat(Slight(q));

    /// <summary>The lines to sail again, and those to add, the most needed first.</summary>
    /// <param name="lines">The lines that are there.</param>
    /// <param name="swath">The greatest angle from the vertical under which an echo is taken.</param>
    /// <param name="unit">What lengths are written in.</param>
    public static IReadOnlyList<Advice> For(IReadOnlyList<LineResult> lines, Angle swath, LengthUnit unit)
    {
        var advice = new List<Advice>();
        double usual = lines.Count == 0 ? double.NaN : lines.Select(l => l.Quality.MeanHeight).Order().ElementAt((lines.Count - 1) / 2);
        foreach (LineResult line in lines)
        {
            LineQuality q = line.Quality;
            List<string> why = [.. Serious(q, unit)];
            if (lines.Count > 2 && q.MeanHeight > HeightFromOthers * usual)
                why.Add($"{unit.Write(q.MeanHeight, 1)} above the seabed, where the others keep {unit.Write(usual, 1)}");
            if (why.Count > 0)
                advice.Add(new($"Repeat {q.Name}", string.Join("; ", why), new(line.Pings[0].Source, line.Pings[^1].Source)));
        }
        for (int a = 0; a < lines.Count; a++)
            for (int b = a + 1; b < lines.Count; b++)
                if (Gap(lines[a], lines[b], lines, swath) is var (width, middle))
                    advice.Add(new($"Add a line between {lines[a].Name} and {lines[b].Name}", $"neither sees a strip up to {unit.Write(width, 1)} wide at the seabed between them", middle));
        return advice;
    }

    /// <summary>How far beside its track a line sees the seabed, metres.</summary>
    public static double Reach(LineResult line, Angle swath) => line.Quality.MeanHeight * Math.Tan(swath.Radians);

    private static IEnumerable<string> Serious(LineQuality q, LengthUnit unit)
    {
        if (q.PingsUsed < LeastUsed * q.Pings)
            yield return $"only {q.PingsUsed} of {q.Pings} pings used";
        if (q.SeabedSnrDb < LeastSnrDb)
            yield return "weak seabed";
        if (q.DropOuts > MostSilent * q.Pings * q.Receivers)
            yield return $"{q.DropOuts} of {q.Pings * q.Receivers} traces silent";
        if (q.PingSpacing > WidestOfHeight * q.MeanHeight)
            yield return $"pings far apart ({unit.Write(q.PingSpacing, 2)} at {unit.Write(q.MeanHeight, 1)} height)";
    }

    private static IEnumerable<string> Slight(LineQuality q)
    {
        if (q.DeadReceivers.Count > 0)
            yield return Numbers.Count(q.DeadReceivers.Count, "receiver dead", "receivers dead");
        if (q.SeabedBridged > MostBridged * q.Pings)
            yield return "seabed bridged";
    }

    // How wide the strip between two neighbours is that neither sees, and its middle from end to end; null where they meet, where a third line lies between, or where they aren't beside each other.
    private static (double Width, LineToSail Middle)? Gap(LineResult one, LineResult other, IReadOnlyList<LineResult> all, Angle swath)
    {
        double meet = Reach(one, swath) + Reach(other, swath), widest = 0;
        var middles = new List<GridPoint>();
        int beside = 0;
        foreach (GridPoint here in Points(one))
        {
            GridPoint there = Points(other).MinBy(p => p.HorizontalDistanceTo(here));
            double apart = here.HorizontalDistanceTo(there);
            // Neighbours are not farther than a strip as wide as both see; the middle is nobody else's.
            if (apart > 2 * meet || there == Points(other)[0] || there == Points(other)[^1])
                continue;
            beside++;
            GridPoint middle = here.MidpointTo(there);
            if (apart <= meet || all.Any(l => l != one && l != other && Points(l).Any(p => p.HorizontalDistanceTo(middle) < Reach(l, swath))))
                continue;
            middles.Add(middle);
            widest = Math.Max(widest, apart - meet);
        }
        return middles.Count > LeastGapShare * beside ? (widest, new(middles[0], middles[^1])) : null;
    }

    // A point of the track for each metre or so.
    private static GridPoint[] Points(LineResult line)
    {
        int every = Math.Max(1, (int)(Step / Math.Max(line.Quality.PingSpacing, 1e-3)));
        return [.. line.Pings.Where((_, i) => i % every == 0 || i == line.Pings.Count - 1).Select(p => p.Source)];
    }
}
