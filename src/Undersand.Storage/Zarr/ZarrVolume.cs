using System.Buffers;
using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.InteropServices;
using System.Text;

namespace Undersand.Storage.Zarr;

/// <summary>An imaged volume in a folder: Zarr version 2 with CF-1.11 attributes, which xarray and GDAL open with coordinates and reference system.</summary>
/// <remarks>
/// A chunk is one tile (under one look), written whole or not at all. A look that never saw a tile has no chunk. A tile counts as present under a look
/// once its traces' chunk is there, which is written last. On disk the order is burial, northing, easting; in memory a column is contiguous.
/// Beside the arrays, <c>.tiles</c> holds a small text file a tile: its fingerprint, written by the run when the tile is complete.
/// All members may be called from several threads, as long as no two write the same tile under the same look.
/// </remarks>
public sealed class ZarrVolume : IVolume
{
    private const int Columns = VoxelGrid.TileSize * VoxelGrid.TileSize;

    // Columns turned over together: a cache line on disk's side.
    private const int BlockColumns = 16;
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
    /// <remarks>Tiles of an earlier run stay, under new numbers where the grid has grown by whole tiles, as long as reference system and columns are the same; otherwise the folder is emptied. Looks are known by their names.</remarks>
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
    public LookSums? Read(TileIndex tile, int look) => ReadOnto(null, tile, look);

    /// <inheritdoc/>
    /// <exception cref="SurveyException">A chunk is damaged, or was taken away meanwhile.</exception>
    public LookSums? ReadOnto(LookSums? sums, TileIndex tile, int look)
    {
        if (!HasTile(tile, look))
            return sums;
        sums ??= new LookSums(Grid.CountZ);
        byte[] bytes = ArrayPool<byte>.Shared.Rent(ChunkBytes);
        try
        {
            bool all = Add(_layout.Traces, tile, look, bytes, sums.Traces) && Add(_layout.Real, tile, look, bytes, sums.Real)
                && Add(_layout.Imaginary, tile, look, bytes, sums.Imaginary) && Add(_layout.SumOfSquares, tile, look, bytes, sums.SumOfSquares);
            return all ? sums : throw new SurveyException(_folder, $"tile {tile.X}.{tile.Y}", "it was taken away while it was read", "read it again");
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(bytes);
        }
    }

    /// <summary>Writes a tile under one look. Takes the tile's fingerprint away first.</summary>
    /// <exception cref="ArgumentException">The levels are not the grid's, or tile or look lie outside.</exception>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void WriteTile(TileIndex tile, int look, LookSums sums)
    {
        Check(tile, look);
        if (sums.Levels != Grid.CountZ)
            throw new ArgumentException($"the tile has {sums.Levels} levels, the grid {Grid.CountZ}", nameof(sums));
        Delete(MarkPath(tile));
        Delete(Path(_layout.Traces, tile, look));
        byte[] bytes = new byte[ChunkBytes];
        Write(_layout.Real, tile, look, bytes, MemoryMarshal.Cast<float, uint>(sums.Real));
        Write(_layout.Imaginary, tile, look, bytes, MemoryMarshal.Cast<float, uint>(sums.Imaginary));
        Write(_layout.SumOfSquares, tile, look, bytes, MemoryMarshal.Cast<float, uint>(sums.SumOfSquares));
        Write(_layout.Traces, tile, look, bytes, MemoryMarshal.Cast<int, uint>(sums.Traces));
    }

    /// <summary>Whether a look's tile is there, whole.</summary>
    public bool HasTile(TileIndex tile, int look)
    {
        Check(tile, look);
        return LookArrays.All(array => File.Exists(Path(array, tile, look)));
    }

    /// <summary>Writes a tile's probabilities.</summary>
    /// <param name="tile">Which.</param>
    /// <param name="columnMajor">In the order of <see cref="LookSums"/>; NaN where nobody looked.</param>
    /// <exception cref="ArgumentException">The length is not a tile's, or the tile lies outside.</exception>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void WriteProbability(TileIndex tile, float[] columnMajor) => Write(_layout.Probability, tile, columnMajor);

    /// <summary>A tile's probabilities in the order of <see cref="LookSums"/>, or null where none were written.</summary>
    public float[]? ReadProbability(TileIndex tile) => Read(_layout.Probability, tile);

    /// <summary>Writes what all lines together say of a tile; null takes it away.</summary>
    /// <exception cref="ArgumentException">A length is not a tile's, or the tile lies outside.</exception>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void WriteTogether(TileIndex tile, LinesTogether? together)
    {
        if (together is null)
        {
            Delete(Path(_layout.Amplitude, tile, null));
            Delete(Path(_layout.Coherence, tile, null));
            return;
        }
        Write(_layout.Amplitude, tile, together.Amplitude);
        Write(_layout.Coherence, tile, together.Coherence);
    }

    /// <summary>What all lines together say of a tile, or null where that was not written.</summary>
    public LinesTogether? ReadTogether(TileIndex tile) => Read(_layout.Amplitude, tile) is { } amplitude && Read(_layout.Coherence, tile) is { } coherence ? new LinesTogether(amplitude, coherence) : null;

    /// <summary>Takes a tile away: its fingerprint first, then every look and what was made of them.</summary>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void ClearTile(TileIndex tile)
    {
        for (int look = 0; look < Looks.Count; look++)
            ClearLook(tile, look);
        foreach (ZarrArray array in (ZarrArray[])[_layout.Probability, _layout.Amplitude, _layout.Coherence])
            Delete(Path(array, tile, null));
    }

    /// <summary>Takes what one look saw of a tile away: the tile's fingerprint first.</summary>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public void ClearLook(TileIndex tile, int look)
    {
        Check(tile, look);
        Delete(MarkPath(tile));
        foreach (ZarrArray array in LookArrays)
            Delete(Path(array, tile, look));
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

    private ZarrArray[] LookArrays => [_layout.Traces, _layout.Real, _layout.Imaginary, _layout.SumOfSquares];

    private int ChunkBytes => sizeof(float) * Columns * Grid.CountZ;

    private string MarkPath(TileIndex tile) => System.IO.Path.Combine(_folder, ZarrStore.MarksFolder, $"{tile.X}.{tile.Y}");

    private static void Delete(string path) => WholeFile.Guard(path, () =>
    {
        if (File.Exists(path))
            File.Delete(path);
    });

    private static string Path(ZarrArray array, TileIndex tile, int? look) =>
        look is int l ? array.ChunkPath(l, 0, tile.Y, tile.X) : array.ChunkPath(0, tile.Y, tile.X);

    private void Write(ZarrArray array, TileIndex tile, float[] columnMajor)
    {
        Check(tile, 0);
        if (columnMajor.Length != Columns * Grid.CountZ)
            throw new ArgumentException($"a tile has {Columns * Grid.CountZ} voxels, not {columnMajor.Length}", nameof(columnMajor));
        Write(array, tile, null, new byte[ChunkBytes], MemoryMarshal.Cast<float, uint>(columnMajor));
    }

    private float[]? Read(ZarrArray array, TileIndex tile)
    {
        Check(tile, 0);
        float[] values = new float[Columns * Grid.CountZ];
        return Add(array, tile, null, new byte[ChunkBytes], values) ? values : null;
    }

    // False where the chunk is absent.
    private bool Add<T>(ZarrArray array, TileIndex tile, int? look, byte[] room, T[] columnMajor) where T : unmanaged, IAdditionOperators<T, T, T>
    {
        Span<byte> bytes = room.AsSpan(0, ChunkBytes);
        if (!ZarrArray.TryRead(Path(array, tile, look), bytes))
            return false;
        if (!BitConverter.IsLittleEndian)
            BinaryPrimitives.ReverseEndianness(MemoryMarshal.Cast<byte, uint>(bytes), MemoryMarshal.Cast<byte, uint>(bytes));
        ReadOnlySpan<T> levelMajor = MemoryMarshal.Cast<byte, T>(bytes);
        for (int block = 0; block < Columns; block += BlockColumns)
            for (int iz = 0; iz < Grid.CountZ; iz++)
            {
                ReadOnlySpan<T> from = levelMajor.Slice(iz * Columns + block, BlockColumns);
                for (int column = 0; column < from.Length; column++)
                    columnMajor[(block + column) * Grid.CountZ + iz] += from[column];
            }
        return true;
    }

    private static void Write(ZarrArray array, TileIndex tile, int? look, byte[] bytes, ReadOnlySpan<uint> columnMajor)
    {
        int levels = columnMajor.Length / Columns;
        for (int block = 0; block < Columns; block += BlockColumns)
            for (int iz = 0; iz < levels; iz++)
                for (int column = block; column < block + BlockColumns; column++)
                    BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(4 * (iz * Columns + column)), columnMajor[column * levels + iz]);
        WholeFile.WriteBytes(Path(array, tile, look), ZarrArray.Compress(bytes));
    }

    private void Check(TileIndex tile, int look)
    {
        if (tile.X < 0 || tile.X >= Grid.TilesX || tile.Y < 0 || tile.Y >= Grid.TilesY)
            throw new ArgumentOutOfRangeException(nameof(tile), tile, $"the grid has {Grid.TilesX} × {Grid.TilesY} tiles");
        if (look < 0 || look >= Looks.Count)
            throw new ArgumentOutOfRangeException(nameof(look), look, $"the volume has {Looks.Count} looks");
    }
}
