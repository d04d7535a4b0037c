using System.IO.Compression;
using Undersand.Runs.Reporting;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Pictures;

/// <summary>Cuts sections through the volume into pictures 256 columns wide, in burial (the seabed flat) or in depth.</summary>
/// <remarks>
/// At level k a column is <c>2^k</c> voxels wide and shows the greatest of them, so that a small body is seen from afar. A row is a voxel high.
/// Columns take the voxels they pass through: nothing is interpolated.
/// </remarks>
internal sealed class SectionTiles
{
    public const int Columns = 256, MostLevel = 8;
    private const int MostBytes = 160_000_000;
    private const double DecibelsShown = 40;
    private readonly OpenedResults _results;
    private readonly MapTiles _maps;
    private readonly VoxelGrid _grid;
    private readonly int _mostTiles;
    private readonly KeptPictures<TileIndex, TileImage?> _tiles;
    private readonly KeptPictures<(string, string, bool, int, int), byte[]> _pictures = new(512);
    private readonly Lazy<double> _strongest;
    private readonly Dictionary<string, SectionPath> _lines;

    public SectionTiles(OpenedResults results, MapTiles maps)
    {
        (_results, _maps, _grid) = (results, maps, results.Volume.Grid);
        _mostTiles = Math.Max(24, MostBytes / (3 * VoxelGrid.TileSize * VoxelGrid.TileSize * _grid.CountZ));
        _tiles = new(_mostTiles);
        _strongest = new(Strongest);
        _lines = results.Contents.Lines.Select(l => (l.Name, Path: SectionPath.Of(l))).Where(l => l.Path is not null).ToDictionary(l => l.Name, l => l.Path!);
        Quantity seabed = maps.Quantities[0];
        FirstDepth = Math.Floor((seabed.Low + _grid.BurialAt(-0.5)) / 0.5) * 0.5;
        DepthRows = (int)Math.Ceiling((seabed.High + _grid.BurialAt(_grid.CountZ - 0.5) - FirstDepth) / _grid.Spacing);
    }

    public IReadOnlyList<Quantity> Quantities { get; } =
    [
        new("reflectivity", "Echo strength, dB", "All lines together; 0 dB is the strength that one voxel in a thousand exceeds.", ColourMap.Amplitude, -DecibelsShown, 0, false),
        new("coherence", "Coherence", "Share of the echoes' energy that adds up in one place, 0 to 1. Noise alone stays low.", ColourMap.Coherence, 0, 1, false),
        new("probability", "Probability", "That the top of a compact body lies in the voxel. Not calibrated yet.", ColourMap.Probability, 0, 1, false),
    ];

    /// <summary>Depth of the first row of sections in depth.</summary>
    public double FirstDepth { get; }

    /// <summary>Rows of a section in depth.</summary>
    public int DepthRows { get; }

    /// <summary>Reads ahead what people look at first, as far as it is kept: the tiles nearest to the most probable target.</summary>
    public void ReadAhead(CancellationToken stop)
    {
        _ = _strongest.Value;
        GridPoint? first = _results.Targets.Count > 0 ? _results.Targets[0].Position : null;
        double Far(TileIndex t) => first is { } p ? p.HorizontalDistanceTo(new GridPoint(_grid.EastingAt((t.X + 0.5) * VoxelGrid.TileSize), _grid.NorthingAt((t.Y + 0.5) * VoxelGrid.TileSize), 0)) : 0;
        foreach (TileIndex tile in _grid.Tiles().OrderBy(Far).Take(_mostTiles - 8).TakeWhile(_ => !stop.IsCancellationRequested))
            Tile(tile);
    }

    public SectionPath? Line(string name) => _lines.GetValueOrDefault(name);

    /// <summary>A tile as pictures show it; null where no line saw it.</summary>
    public TileImage? Tile(TileIndex tile) => _tiles.Get(tile, t => TileImage.Read(_results.Volume, t, Quantities, _strongest.Value));

    /// <summary>A picture; null where quantity, level or place is none.</summary>
    public byte[]? Picture(string key, SectionPath path, string name, bool depth, int level, int x)
    {
        if (level is < 0 or > MostLevel || x < 0 || x * Columns * (_grid.Spacing * (1 << level)) > path.Length || Quantities.FirstOrDefault(q => q.Name == name) is not { } quantity)
            return null;
        return _pictures.Get((key, name, depth, level, x), _ => Make(path, quantity, depth, level, x));
    }

    /// <summary>A level slice: the volume at one burial, in the tiles of the map; null where quantity or level is none.</summary>
    public byte[]? Slice(string name, int level, int z, int x, int y)
    {
        if (level < 0 || level >= _grid.CountZ || z < 0 || z >= _maps.Levels || Quantities.FirstOrDefault(q => q.Name == name) is not { } quantity)
            return null;
        return _pictures.Get(($"{z}/{x}/{y}", name, false, -1 - level, 0), _ =>
        {
            var indices = new byte[MapTiles.Size * MapTiles.Size];
            (TileIndex At, byte[]? Entries) held = (new TileIndex(-1, -1), null);
            _maps.ForEachPixel(z, x, y, (pixel, e, n, metres) => indices[pixel] = Sliced(quantity, level, e, n, metres, ref held));
            return Png.Encode(MapTiles.Size, MapTiles.Size, indices, quantity.Map, CompressionLevel.Fastest);
        });
    }

    // The greatest voxel within the pixel, from at most four by four.
    private byte Sliced(Quantity quantity, int level, double e, double n, double metres, ref (TileIndex At, byte[]? Entries) held)
    {
        int cells = Math.Clamp((int)Math.Round(metres / _grid.Spacing), 1, 4);
        byte greatest = 0;
        for (int i = 0; i < cells * cells; i++)
        {
            if (!_grid.TryColumn(e + ((i % cells + 0.5) / cells - 0.5) * metres, n + ((i / cells + 0.5) / cells - 0.5) * metres, out int ix, out int iy))
                continue;
            (TileIndex at, int start) = _grid.Locate(ix, iy);
            if (held.At != at)
                held = (at, Tile(at)?.Of(quantity));
            if (held.Entries is { } entries)
                greatest = Math.Max(greatest, entries[start + level]);
        }
        return greatest;
    }

    private byte[] Make(SectionPath path, Quantity quantity, bool depth, int level, int x)
    {
        int rows = depth ? DepthRows : _grid.CountZ, wide = 1 << level;
        var picture = new byte[Columns * rows];
        for (int column = 0; column < Columns; column++)
            for (int part = 0; part < wide; part++)
            {
                double distance = ((x * Columns + column) * wide + part + 0.5) * _grid.Spacing;
                if (distance > path.Length)
                    break;
                Column(path.At(distance), quantity, depth, rows, picture.AsSpan(column));
            }
        return Png.Encode(Columns, rows, picture, quantity.Map, CompressionLevel.Fastest);
    }

    // One column of voxels into one column of the picture, whose rows lie 256 apart; the greater entry stays.
    private void Column((double E, double N) place, Quantity quantity, bool depth, int rows, Span<byte> into)
    {
        if (!_grid.TryColumn(place.E, place.N, out int ix, out int iy))
            return;
        (TileIndex at, int start) = _grid.Locate(ix, iy);
        double seabed = depth ? _maps.At("seabed", place.E, place.N) : 0;
        if (double.IsNaN(seabed) || Tile(at) is not { } tile)
            return;
        byte[] entries = tile.Of(quantity);
        int shift = depth ? (int)Math.Round((seabed + _grid.FirstBurial - 0.5 * _grid.Spacing - FirstDepth) / _grid.Spacing) : 0;
        for (int z = 0; z < _grid.CountZ; z++)
        {
            int row = z + shift;
            if (row >= 0 && row < rows && row * Columns < into.Length)
                into[row * Columns] = Math.Max(into[row * Columns], entries[start + z]);
        }
    }

    // The amplitude that one voxel in a thousand exceeds, from three tiles spread over the survey.
    private double Strongest()
    {
        TileIndex[] all = [.. _grid.Tiles()];
        var values = new List<float>();
        for (int i = 0, found = 0; i < all.Length && found < 3; i++)
            if (TileImage.Together(_results.Volume, all[(int)((i * 0.618034 % 1) * all.Length)]) is { } together)
            {
                values.AddRange(together.Amplitude.Where((a, k) => k % 7 == 0 && float.IsFinite(a)));
                found++;
            }
        values.Sort();
        return values.Count == 0 ? 1 : Math.Max(values[(int)(0.999 * (values.Count - 1))], 1e-12f);
    }
}
