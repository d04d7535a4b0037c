using System.Buffers.Binary;
using System.Text;

namespace Undersand.Storage.Zarr;

/// <summary>An imaged volume in a folder: Zarr version 2 with CF-1.11 attributes, which xarray and GDAL open with coordinates and reference system.</summary>
/// <remarks>
/// A chunk is one tile (under one look), written whole or not at all. A look that never saw a tile has no chunk. A tile counts as present under a look
/// once its traces' chunk is there, which is written last. On disk the order is burial, northing, easting; in memory a column is contiguous.
/// Beside the arrays, <c>.tiles</c> holds a small text file a tile: its fingerprint, written by the run when the tile is complete.
/// All members may be called from several threads, as long as no two write the same tile.
/// </remarks>
public sealed class ZarrVolume : IVolume
{
    private const int Columns = VoxelGrid.TileSize * VoxelGrid.TileSize;
    private readonly string _folder;
    private readonly ZarrLayout _layout;

    internal ZarrVolume(string folder, VoxelGrid grid, IReadOnlyList<Look> looks, ZarrLayout layout)
    {
        _folder = folder;
        _layout = layout;
        Grid = grid;
        Looks = looks;
    }

    /// <inheritdoc/>
    public VoxelGrid Grid { get; }

    /// <inheritdoc/>
    public IReadOnlyList<Look> Looks { get; }

    /// <summary>Makes a volume, or takes one up again.</summary>
    /// <remarks>Tiles of an earlier run stay where grid and reference system are the same and the earlier looks come first among these; otherwise the folder is emptied.</remarks>
    /// <param name="folder">The store, <c>volume.zarr</c>.</param>
    /// <param name="grid">Where the voxels are.</param>
    /// <param name="looks">The looks, at least one, in the order of their indices.</param>
    /// <param name="crs">The survey's reference system.</param>
    /// <param name="surveyName">The survey's name.</param>
    /// <exception cref="SurveyException">The place can't be written to, or holds something else.</exception>
    public static ZarrVolume Create(string folder, VoxelGrid grid, IReadOnlyList<Look> looks, Positioning.ProjectedCrs crs, string surveyName)
    {
        var layout = new ZarrLayout(folder, grid, looks, crs, surveyName);
        ZarrStore.Prepare(folder, layout);
        return new ZarrVolume(folder, grid, looks, layout);
    }

    /// <summary>Opens a volume made by <see cref="Create"/>.</summary>
    /// <exception cref="SurveyException">It isn't one, or is damaged.</exception>
    public static ZarrVolume Open(string folder) => ZarrStore.Open(folder);

    /// <inheritdoc/>
    public LookSums? Read(TileIndex tile, int look)
    {
        if (!HasTile(tile, look))
            return null;
        var sums = new LookSums(Grid.CountZ);
        byte[] bytes = new byte[ChunkBytes];
        bool all = ReadFloats(_layout.Real.ChunkPath(look, 0, tile.Y, tile.X), bytes, sums.Real)
            && ReadFloats(_layout.Imaginary.ChunkPath(look, 0, tile.Y, tile.X), bytes, sums.Imaginary)
            && ReadFloats(_layout.SumOfSquares.ChunkPath(look, 0, tile.Y, tile.X), bytes, sums.SumOfSquares)
            && ZarrArray.TryRead(_layout.Traces.ChunkPath(look, 0, tile.Y, tile.X), bytes);
        if (!all)
            return null;
        for (int column = 0, at = 0; column < Columns; column++)
            for (int iz = 0; iz < Grid.CountZ; iz++, at++)
                sums.Traces[at] = BinaryPrimitives.ReadInt32LittleEndian(bytes.AsSpan(4 * (iz * Columns + column)));
        return sums;
    }

    /// <summary>Writes a tile under one look. Takes the tile's fingerprint away first.</summary>
    /// <exception cref="ArgumentException">The levels are not the grid's, or tile or look lie outside.</exception>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void WriteTile(TileIndex tile, int look, LookSums sums)
    {
        Check(tile, look);
        if (sums.Levels != Grid.CountZ)
            throw new ArgumentException($"the tile has {sums.Levels} levels, the grid {Grid.CountZ}", nameof(sums));
        string traces = _layout.Traces.ChunkPath(look, 0, tile.Y, tile.X);
        Delete(MarkPath(tile));
        Delete(traces);
        byte[] bytes = new byte[ChunkBytes];
        WriteFloats(_layout.Real.ChunkPath(look, 0, tile.Y, tile.X), bytes, sums.Real);
        WriteFloats(_layout.Imaginary.ChunkPath(look, 0, tile.Y, tile.X), bytes, sums.Imaginary);
        WriteFloats(_layout.SumOfSquares.ChunkPath(look, 0, tile.Y, tile.X), bytes, sums.SumOfSquares);
        for (int column = 0, at = 0; column < Columns; column++)
            for (int iz = 0; iz < Grid.CountZ; iz++, at++)
                BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(4 * (iz * Columns + column)), sums.Traces[at]);
        WholeFile.WriteBytes(traces, ZarrArray.Compress(bytes));
    }

    /// <summary>Whether a look's tile is there, whole.</summary>
    public bool HasTile(TileIndex tile, int look)
    {
        Check(tile, look);
        return File.Exists(_layout.Traces.ChunkPath(look, 0, tile.Y, tile.X));
    }

    /// <summary>Writes a tile's probabilities.</summary>
    /// <param name="tile">Which.</param>
    /// <param name="columnMajor">In the order of <see cref="LookSums"/>; NaN where nobody looked.</param>
    /// <exception cref="ArgumentException">The length is not a tile's, or the tile lies outside.</exception>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void WriteProbability(TileIndex tile, float[] columnMajor)
    {
        Check(tile, 0);
        if (columnMajor.Length != Columns * Grid.CountZ)
            throw new ArgumentException($"a tile has {Columns * Grid.CountZ} voxels, not {columnMajor.Length}", nameof(columnMajor));
        WriteFloats(_layout.Probability.ChunkPath(0, tile.Y, tile.X), new byte[ChunkBytes], columnMajor);
    }

    /// <summary>A tile's probabilities in the order of <see cref="LookSums"/>, or null where none were written.</summary>
    public float[]? ReadProbability(TileIndex tile)
    {
        Check(tile, 0);
        float[] values = new float[Columns * Grid.CountZ];
        return ReadFloats(_layout.Probability.ChunkPath(0, tile.Y, tile.X), new byte[ChunkBytes], values) ? values : null;
    }

    /// <summary>Takes a tile away: its fingerprint first, then every look and the probability.</summary>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void ClearTile(TileIndex tile)
    {
        Check(tile, 0);
        Delete(MarkPath(tile));
        for (int look = 0; look < Looks.Count; look++)
            foreach (ZarrArray array in new[] { _layout.Traces, _layout.Real, _layout.Imaginary, _layout.SumOfSquares })
                Delete(array.ChunkPath(look, 0, tile.Y, tile.X));
        Delete(_layout.Probability.ChunkPath(0, tile.Y, tile.X));
    }

    /// <summary>Says that a tile is complete, and made from what the fingerprint stands for.</summary>
    /// <param name="tile">Which.</param>
    /// <param name="fingerprint">One line of text.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void MarkTile(TileIndex tile, string fingerprint)
    {
        Check(tile, 0);
        if (fingerprint.AsSpan().IndexOfAny('\r', '\n') >= 0)
            throw new ArgumentException("a fingerprint is one line", nameof(fingerprint));
        WholeFile.WriteText(MarkPath(tile), fingerprint + "\n");
    }

    /// <summary>The fingerprint of a complete tile; null where the tile isn't complete.</summary>
    public string? TileFingerprint(TileIndex tile)
    {
        Check(tile, 0);
        string path = MarkPath(tile);
        return File.Exists(path) ? File.ReadAllText(path, Encoding.UTF8).TrimEnd('\n') : null;
    }

    private int ChunkBytes => sizeof(float) * Columns * Grid.CountZ;

    private string MarkPath(TileIndex tile) => Path.Combine(_folder, ZarrStore.MarksFolder, $"{tile.X}.{tile.Y}");

    private static void Delete(string path) => WholeFile.Guard(path, () =>
    {
        if (File.Exists(path))
            File.Delete(path);
    });

    private static bool ReadFloats(string path, byte[] bytes, float[] columnMajor)
    {
        if (!ZarrArray.TryRead(path, bytes))
            return false;
        int levels = columnMajor.Length / Columns;
        for (int column = 0, at = 0; column < Columns; column++)
            for (int iz = 0; iz < levels; iz++, at++)
                columnMajor[at] = BinaryPrimitives.ReadSingleLittleEndian(bytes.AsSpan(4 * (iz * Columns + column)));
        return true;
    }

    private static void WriteFloats(string path, byte[] bytes, float[] columnMajor)
    {
        int levels = columnMajor.Length / Columns;
        for (int column = 0, at = 0; column < Columns; column++)
            for (int iz = 0; iz < levels; iz++, at++)
                BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(4 * (iz * Columns + column)), columnMajor[at]);
        WholeFile.WriteBytes(path, ZarrArray.Compress(bytes));
    }

    private void Check(TileIndex tile, int look)
    {
        if (tile.X < 0 || tile.X >= Grid.TilesX || tile.Y < 0 || tile.Y >= Grid.TilesY)
            throw new ArgumentOutOfRangeException(nameof(tile), tile, $"the grid has {Grid.TilesX} × {Grid.TilesY} tiles");
        if (look < 0 || look >= Looks.Count)
            throw new ArgumentOutOfRangeException(nameof(look), look, $"the volume has {Looks.Count} looks");
    }
}
