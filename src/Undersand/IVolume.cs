namespace Undersand;

/// <summary>An imaged volume, tile by tile, whether it lies in a file or in memory. Members may be called from several threads.</summary>
public interface IVolume
{
    /// <summary>Where the voxels are.</summary>
    VoxelGrid Grid { get; }

    /// <summary>The looks.</summary>
    IReadOnlyList<Look> Looks { get; }

    /// <summary>A tile under one look, or null where that look never saw the tile.</summary>
    LookSums? Read(TileIndex tile, int look);

    /// <summary>Adds a tile under one look to the sums of others of its line, which are made where there are none yet; null where there are none and that look never saw the tile.</summary>
    LookSums? ReadOnto(LookSums? sums, TileIndex tile, int look)
    {
        if (Read(tile, look) is not { } one)
            return sums;
        // What a volume gives may be its own.
        sums ??= new LookSums(one.Levels);
        sums.Add(one);
        return sums;
    }
}
