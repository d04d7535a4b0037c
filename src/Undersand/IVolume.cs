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
}
