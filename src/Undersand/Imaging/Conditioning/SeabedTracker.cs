namespace Undersand.Imaging.Conditioning;

/// <summary>A depth at which a ping's seabed may lie.</summary>
/// <param name="Depth">Below the water surface, metres.</param>
/// <param name="Score">How much it looks like the seabed: level over noise and over what comes before, in tens of decibels.</param>
internal readonly record struct SeabedCandidate(double Depth, double Score);

/// <summary>Chooses one depth a ping from the candidates, so that the track is continuous: a lost ping, a fish or a multiple does not pull it away.</summary>
/// <remarks>Dynamic programming after Viterbi (1967), IEEE Trans. Inf. Theory 13, 260–269, that may skip pings.</remarks>
internal static class SeabedTracker
{
    private const int LongestSkip = 25;
    private const double SkipPenalty = 2.5, JumpCap = 8;

    /// <summary>The track: a depth for each ping, NaN where the path skips it.</summary>
    /// <param name="candidates">Per ping, any number.</param>
    /// <param name="along">Distance along the track of each ping, metres, rising.</param>
    public static double[] Track(IReadOnlyList<SeabedCandidate[]> candidates, ReadOnlySpan<double> along)
    {
        int n = candidates.Count;
        var best = new double[n][];
        var from = new (int Ping, int Candidate)[n][];
        (int Ping, int Candidate) end = (-1, -1);
        double bestEnd = 0;
        for (int p = 0; p < n; p++)
        {
            best[p] = new double[candidates[p].Length];
            from[p] = new (int, int)[candidates[p].Length];
            for (int c = 0; c < candidates[p].Length; c++)
            {
                (best[p][c], from[p][c]) = BestWayTo(p, candidates[p][c], candidates, best, along);
                if (best[p][c] > bestEnd)
                    (bestEnd, end) = (best[p][c], (p, c));
            }
        }
        var track = new double[n];
        Array.Fill(track, double.NaN);
        for (var at = end; at.Ping >= 0; at = from[at.Ping][at.Candidate])
            track[at.Ping] = candidates[at.Ping][at.Candidate].Depth;
        return track;
    }

    private static (double Score, (int, int) From) BestWayTo(int p, SeabedCandidate candidate, IReadOnlyList<SeabedCandidate[]> candidates, double[][] best, ReadOnlySpan<double> along)
    {
        // Starting anew costs what all pings before would have earned nothing for: nothing.
        (double Score, (int, int) From) way = (candidate.Score, (-1, -1));
        for (int q = p - 1; q >= Math.Max(0, p - LongestSkip); q--)
        {
            double tolerance = 0.02 + 0.12 * (along[p] - along[q]), skipped = SkipPenalty * (p - q - 1);
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
