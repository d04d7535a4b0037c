using System.Collections.Concurrent;
using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>How the lines see every peak that may become a target, gathered tile by tile: strongest first, as they are grouped, each would read its lines from disk again.</summary>
internal sealed class SeedSupport
{
    private readonly ConcurrentDictionary<Peak, List<LineSupport>> _lines = new();

    /// <param name="field">Where the peaks are.</param>
    /// <param name="model">What lines see.</param>
    /// <param name="seeds">The peaks.</param>
    /// <param name="threads">How many; the result does not depend on it.</param>
    /// <param name="progress">Told the fraction done; may be null.</param>
    /// <param name="cancel">Stops between tiles.</param>
    public SeedSupport(EvidenceField field, IImageModel model, IReadOnlyList<Peak> seeds, int threads, IProgress<double>? progress, CancellationToken cancel)
    {
        var tiles = seeds.GroupBy(s => (Y: s.Y / VoxelGrid.TileSize, X: s.X / VoxelGrid.TileSize)).OrderBy(t => t.Key);
        int done = 0;
        var options = new ParallelOptions { MaxDegreeOfParallelism = Math.Max(threads, 1), CancellationToken = cancel };
        Refusal.AsItself(() => Parallel.ForEach(Partitioner.Create(tiles, EnumerablePartitionerOptions.NoBuffering), options, tile =>
        {
            foreach (Peak seed in tile)
                _lines[seed] = LineSupport.At(field, model, seed.X, seed.Y, seed.Z);
            progress?.Report(Interlocked.Add(ref done, tile.Count()) / (double)seeds.Count);
        }));
    }

    /// <summary>All lines that saw a peak, in their order.</summary>
    public List<LineSupport> Of(Peak seed) => _lines[seed];
}
