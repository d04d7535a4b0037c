using System.Collections.Concurrent;

namespace Undersand;

/// <summary>An imaged volume in memory: for small surveys, examples, benches and tests.</summary>
/// <param name="grid">Where the voxels are.</param>
/// <param name="looks">The looks.</param>
public sealed class MemoryVolume(VoxelGrid grid, IReadOnlyList<Look> looks) : IVolume
{
    private readonly ConcurrentDictionary<(TileIndex, int), LookSums> _tiles = new();

    /// <inheritdoc/>
    public VoxelGrid Grid => grid;

    /// <inheritdoc/>
    public IReadOnlyList<Look> Looks => looks;

    /// <inheritdoc/>
    public LookSums? Read(TileIndex tile, int look) => _tiles.GetValueOrDefault((tile, look));

    /// <summary>Keeps a tile under one look; it must not change afterwards.</summary>
    public void Write(TileIndex tile, int look, LookSums sums) => _tiles[(tile, look)] = sums;
}
