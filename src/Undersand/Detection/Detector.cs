using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>From an imaged volume to probabilities and targets, in three passes: learn the null, give each voxel its probability, measure the targets.</summary>
/// <remarks>
/// Reads the volume tile by tile, each with small summaries of its neighbours, and holds a bounded number of them. All results are the same for any degree of
/// parallelism. The reasoning is in docs/science/evidence.md and docs/science/targets.md.
/// </remarks>
public sealed class Detector
{
    // Peaks below 6 dB, and more than this many a tile, can't be targets in any null.
    private const float LeastCandidate = 4;
    private const int CandidatesPerTile = 400;
    private readonly Survey _survey;
    private readonly IVolume _volume;
    private readonly IImageModel _model;
    private readonly DetectionSettings _settings;
    private readonly EvidenceField _field;
    private NullModel? _null;

    /// <summary>A detector for one volume.</summary>
    /// <param name="survey">For the prior, the speeds, and whether amplitudes are calibrated.</param>
    /// <param name="volume">The image.</param>
    /// <param name="model">What a point looks like in it.</param>
    /// <param name="settings">How evidence is gathered.</param>
    /// <param name="known">Where the evidence of tiles is kept for the next detector with these settings; null where there will be none.</param>
    public Detector(Survey survey, IVolume volume, IImageModel model, DetectionSettings settings, KnownEvidence? known = null)
    {
        (_survey, _volume, _model, _settings) = (survey, volume, model, settings);
        _field = new EvidenceField(volume, model, settings, known);
    }

    /// <summary>The null model, once learnt.</summary>
    /// <exception cref="InvalidOperationException"><see cref="LearnNull"/> was not called yet.</exception>
    public NullModel Null => _null ?? throw new InvalidOperationException("the null is learnt first");

    /// <summary>The null's tails for the report.</summary>
    public IReadOnlyList<NullTail> Tails => Null.Tails;

    /// <summary>Volume of a resolution cell at 1 m burial, cubic metres.</summary>
    public double CellVolume => Null.CellVolume;

    /// <summary>Pass 1: learns how evidence is distributed where there is no object, from all tiles, and freezes it.</summary>
    /// <param name="progress">Told the fraction done; may be null.</param>
    /// <param name="cancel">Stops between tiles.</param>
    public NullModel LearnNull(IProgress<double>? progress, CancellationToken cancel)
    {
        var tiles = _field.Grid.Tiles().ToArray();
        var counts = new PeakCounts(_field.Grid.CountZ);
        var candidates = new List<Peak>[tiles.Length];
        int done = 0;
        ForEachTile(tiles, () => new PeakCounts(_field.Grid.CountZ), (i, local) =>
        {
            candidates[i] = Count(tiles[i], local);
            progress?.Report(Interlocked.Increment(ref done) / (double)tiles.Length);
        }, counts.Add, cancel);
        var strongest = candidates.SelectMany(c => c).ToList();
        strongest.Sort(PeakFinder.Strongest);
        return _null = new NullLearner(_survey, _field, _model, _settings).Learn(counts, strongest);
    }

    /// <summary>Pass 2: the probability, in each voxel of a tile, that a compact body's top lies in the resolution cell about it. Places as in <see cref="LookSums"/>; NaN where not imaged.</summary>
    public float[] ProbabilityOf(TileIndex tile)
    {
        var evidence = _field.Evidence(tile);
        var result = new float[evidence.Ratio.Length];
        int levels = _field.Grid.CountZ;
        for (int column = 0; column < result.Length; column += levels)
            for (int z = 0; z < levels; z++)
            {
                float ratio = evidence.Ratio[column + z];
                result[column + z] = float.IsNaN(ratio) || z < FirstLevel ? float.NaN : (float)Null.ProbabilityOf(ratio, evidence.Lines[column + z], z).Value;
            }
        return result;
    }

    /// <summary>Columns from one of those that deepest seen burials are given for to the next.</summary>
    public const int SeenStep = TileEvidence.Step;

    /// <summary>The deepest burial at which a point of a given strength would have been more probable than not, in every eighth column of a tile: 0 where at none, NaN where nobody looked.</summary>
    /// <param name="tile">The tile.</param>
    /// <param name="amplitude">Of the point, in the unit of <see cref="LookSums"/>.</param>
    public float[] DeepestSeen(TileIndex tile, double amplitude)
    {
        var evidence = _field.Evidence(tile);
        int levels = _field.Grid.CountZ;
        var deepest = new float[TileEvidence.Side * TileEvidence.Side];
        for (int i = 0; i < deepest.Length; i++)
        {
            int column = (i / TileEvidence.Side * SeenStep + SeenStep / 2) * VoxelGrid.TileSize + i % TileEvidence.Side * SeenStep + SeenStep / 2;
            deepest[i] = DeepestSeen(evidence.Lines.AsSpan(column * levels, levels), evidence.Reach.AsSpan(i * levels, levels), amplitude);
        }
        return deepest;
    }

    private float DeepestSeen(ReadOnlySpan<byte> lines, ReadOnlySpan<float> reach, double amplitude)
    {
        float deepest = float.NaN;
        for (int z = FirstLevel; z < lines.Length; z++)
        {
            if (lines[z] == 0)
                continue;
            bool seen = TileEvidence.Together(amplitude * reach[z], lines[z]) >= Null.RatioFor(0, lines[z], z);
            deepest = seen ? (float)_field.Grid.BurialAt(z) : float.IsNaN(deepest) ? 0 : deepest;
        }
        return deepest;
    }

    /// <summary>Pass 3: the targets, most probable first.</summary>
    /// <param name="previous">Targets of an earlier run, whose ids stay with the same things; may be null.</param>
    /// <param name="progress">Told the fraction done; may be null.</param>
    /// <param name="cancel">Stops between targets.</param>
    public IReadOnlyList<Target> Targets(IReadOnlyList<Target>? previous, IProgress<double>? progress, CancellationToken cancel)
    {
        double least = Undersand.Probability.FromValue(_settings.ListFrom).LogOdds;
        var seeds = Null.Candidates.Where(p => p.Z >= FirstLevel && Null.ProbabilityOf(p.Ratio, p.Lines, p.Z).LogOdds >= least).OrderByDescending(p => p.Ratio * p.Lines).ToList();
        var builder = new TargetBuilder(_survey, _volume, _field, _model, Null, _settings);
        var support = new SeedSupport(_field, _model, seeds, _settings.DegreeOfParallelism, Half.Of(progress, 0), cancel);
        var found = new TargetGrouping(_field, _model, Null, support, builder, new GhostTest(_survey, _field), new LayerEdgeTest(_field)).Group(seeds, least, Half.Of(progress, 0.5), cancel);
        var listed = found.Where(t => t.Probability.LogOdds >= least).OrderByDescending(t => t.Probability.LogOdds)
            .ThenBy(t => t.Position.Easting).ThenBy(t => t.Position.Northing).ThenBy(t => t.BurialDepth.Value).ToList();
        return TargetIds.Assign(listed, previous);
    }

    private List<Peak> Count(TileIndex tile, PeakCounts counts)
    {
        var evidence = _field.Evidence(tile);
        double spacing = _field.Grid.Spacing;
        var peaks = PeakFinder.Find(evidence, tile, _field.Grid.CountZ, NullLearner.Least);
        counts.AddVoxels(evidence);
        foreach (var peak in PeakFinder.OnePerThing(peaks, spacing))
            if (IsInside(peak))
                counts.AddPeak(peak);
        return [.. peaks.Where(p => p.Ratio >= LeastCandidate).Take(CandidatesPerTile)];
    }

    /// <summary>The first level at which anything is claimed.</summary>
    private int FirstLevel => (int)Math.Ceiling((_settings.LeastBurial - _field.Grid.FirstBurial) / _field.Grid.Spacing - 1e-6);

    private static bool IsInside(Peak peak)
    {
        int x = peak.X % VoxelGrid.TileSize, y = peak.Y % VoxelGrid.TileSize;
        return x > 0 && y > 0 && x < VoxelGrid.TileSize - 1 && y < VoxelGrid.TileSize - 1;
    }

    // Counts are whole numbers, so the order in which threads add theirs changes nothing.
    private void ForEachTile(TileIndex[] tiles, Func<PeakCounts> begin, Action<int, PeakCounts> work, Action<PeakCounts> end, CancellationToken cancel)
    {
        var gate = new Lock();
        var options = new ParallelOptions { CancellationToken = cancel, MaxDegreeOfParallelism = Math.Max(_settings.DegreeOfParallelism, 1) };
        var inOrder = System.Collections.Concurrent.Partitioner.Create(Enumerable.Range(0, tiles.Length), System.Collections.Concurrent.EnumerablePartitionerOptions.NoBuffering);
        Refusal.AsItself(() => Parallel.ForEach(inOrder, options, begin, (i, _, local) =>
        {
            work(i, local);
            return local;
        }, local =>
        {
            lock (gate)
                end(local);
        }));
    }

    // Tells of one half of the work.
    private sealed class Half(IProgress<double> whole, double from) : IProgress<double>
    {
        public static Half? Of(IProgress<double>? whole, double from) => whole is null ? null : new(whole, from);

        public void Report(double value) => whole.Report(from + 0.5 * value);
    }
}
