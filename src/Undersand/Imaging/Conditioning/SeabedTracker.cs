using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>A depth at which a ping's seabed may lie.</summary>
/// <param name="Depth">Below the water surface, metres.</param>
/// <param name="Score">How much it looks like the seabed: level over noise and over what comes before, in tens of decibels.</param>
/// <param name="Level">Over noise, dB.</param>
/// <param name="IsNearDirect">Whether it lies where what is left of the direct arrival may be heard.</param>
internal readonly record struct SeabedCandidate(double Depth, double Score, double Level, bool IsNearDirect = false);

/// <summary>Chooses one depth a ping from the candidates, so that the track is continuous: a lost ping, a fish or a multiple does not pull it away.</summary>
/// <remarks>Dynamic programming after Viterbi (1967), IEEE Trans. Inf. Theory 13, 260–269, that may skip pings. See docs/science/seabed.md.</remarks>
internal static class SeabedTracker
{
    private const int LongestSkip = 25;

    // A candidate is worth about 6: to leave the seabed and come back costs more than six pings on a fish can earn, and a long gap costs no more than a jump.
    private const double SkipPenalty = 2.5, JumpCap = 20, SkipCap = 20;

    // A soft seabed over a hard layer: fainter than the layer, but there in most pings, and well over the noise. Common practice, no source.
    private const double FirstCoverage = 0.7, FirstLevel = 15, FaintestFirst = 25, FaintestSteady = 18;

    /// <summary>The track: a depth for each ping, NaN where the path skips it.</summary>
    /// <param name="candidates">Per ping, any number.</param>
    /// <param name="along">Distance along the track of each ping, metres, rising.</param>
    public static double[] Track(IReadOnlyList<SeabedCandidate[]> candidates, ReadOnlySpan<double> along) =>
        Array.ConvertAll(Best(candidates, along), c => c?.Depth ?? double.NaN);

    /// <summary>The track of the first surface: where a fainter echo lies above the strongest in most pings, that is the seabed and the other a layer. What is left of the direct arrival is no such echo, however steady.</summary>
    /// <param name="candidates">Per ping, any number.</param>
    /// <param name="along">Distance along the track of each ping, metres, rising.</param>
    /// <param name="vehicle">Depth of each ping's source.</param>
    /// <param name="apart">Least distance of two surfaces that can be told apart, metres.</param>
    public static double[] TrackFirst(IReadOnlyList<SeabedCandidate[]> candidates, ReadOnlySpan<double> along, ReadOnlySpan<double> vehicle, double apart)
    {
        var track = Best(candidates, along);
        for (int layer = 0; layer < 3; layer++)
        {
            double[] deeper = Bridge(track);
            double faintest = track.Median(t => t.Level) - FaintestFirst;
            var above = Best(candidates.Select((of, p) => of.Where(c => !c.IsNearDirect && c.Depth < deeper[p] - apart && c.Level > faintest).ToArray()).ToList(), along);
            if (!IsSeabed(above, track, vehicle))
                break;
            double[] surface = Bridge(above);
            track = Best(candidates.Select((of, p) => of.Where(c => c.Depth < surface[p] + apart).ToArray()).ToList(), along);
        }
        return Array.ConvertAll(track, c => c?.Depth ?? double.NaN);
    }

    private static bool IsSeabed(SeabedCandidate?[] above, SeabedCandidate?[] track, ReadOnlySpan<double> vehicle)
    {
        int covered = above.Count(c => c is not null);
        if (covered < 3 || covered < FirstCoverage * track.Count(c => c is not null) || above.Median(c => c.Level) < FirstLevel)
            return false;
        // What keeps its distance to the vehicle while the other surface does not is part of the vehicle.
        double rigid = Wobble(above, vehicle), moving = Wobble(track, vehicle);
        if (rigid < 0.3 * moving)
            return false;
        return moving > 0.02 || above.Median(c => c.Level) > track.Median(c => c.Level) - FaintestSteady;
    }

    /// <summary>Typical change of the height over the surface about its middle, metres.</summary>
    private static double Wobble(SeabedCandidate?[] track, ReadOnlySpan<double> vehicle)
    {
        var heights = new List<double>();
        for (int p = 0; p < track.Length; p++)
            if (track[p] is { } c)
                heights.Add(c.Depth - vehicle[p]);
        return Robust.StandardDeviation(heights.ToArray());
    }

    private static double Median(this SeabedCandidate?[] track, Func<SeabedCandidate, double> of) =>
        Robust.MedianOf(track.Where(c => c is not null).Select(c => of(c!.Value)));

    /// <summary>Depths with the gaps filled from the ping before, at the beginning from the first that has one.</summary>
    private static double[] Bridge(SeabedCandidate?[] track)
    {
        double last = track.FirstOrDefault(c => c is not null)?.Depth ?? double.NaN;
        return Array.ConvertAll(track, c => last = c?.Depth ?? last);
    }

    private static SeabedCandidate?[] Best(IReadOnlyList<SeabedCandidate[]> candidates, ReadOnlySpan<double> along)
    {
        int n = candidates.Count;
        var best = new double[n][];
        var from = new (int Ping, int Candidate)[n][];
        (int Ping, int Candidate) end = (-1, -1);
        double bestEnd = 0;
        (double Score, (int, int) At) settled = (0, (-1, -1));
        for (int p = 0; p < n; p++)
        {
            if (p > LongestSkip)
                for (int c = 0; c < best[p - LongestSkip - 1].Length; c++)
                    if (best[p - LongestSkip - 1][c] > settled.Score)
                        settled = (best[p - LongestSkip - 1][c], (p - LongestSkip - 1, c));
            best[p] = new double[candidates[p].Length];
            from[p] = new (int, int)[candidates[p].Length];
            for (int c = 0; c < candidates[p].Length; c++)
            {
                (best[p][c], from[p][c]) = BestWayTo(p, candidates[p][c], candidates, best, along, settled);
                if (best[p][c] > bestEnd)
                    (bestEnd, end) = (best[p][c], (p, c));
            }
        }
        var track = new SeabedCandidate?[n];
        for (var at = end; at.Ping >= 0; at = from[at.Ping][at.Candidate])
            track[at.Ping] = candidates[at.Ping][at.Candidate];
        return track;
    }

    private static (double Score, (int, int) From) BestWayTo(int p, SeabedCandidate candidate, IReadOnlyList<SeabedCandidate[]> candidates, double[][] best, ReadOnlySpan<double> along, (double Score, (int, int) At) settled)
    {
        (double Score, (int, int) From) way = (candidate.Score, (-1, -1));
        if (settled.Score > JumpCap + SkipCap)
            way = (settled.Score + candidate.Score - JumpCap - SkipCap, settled.At);
        for (int q = p - 1; q >= Math.Max(0, p - LongestSkip); q--)
        {
            double tolerance = 0.02 + 0.12 * (along[p] - along[q]), skipped = Math.Min(SkipPenalty * (p - q - 1), SkipCap);
            for (int c = 0; c < candidates[q].Length; c++)
            {
                double step = (candidate.Depth - candidates[q][c].Depth) / tolerance;
                double score = best[q][c] + candidate.Score - Math.Min(0.5 * step * step, JumpCap) - skipped;
                if (score > way.Score)
                    way = (score, (q, c));
            }
        }
        return way;
    }
}
