using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>The evidence anywhere in the volume, tile by tile, reading no more than a tile and small summaries of its neighbours at a time.</summary>
internal sealed class EvidenceField
{
    // Below −55 dB of the strongest echo in the ring's reach, an image shows its own interpolation and aliasing, not the ground.
    private const float DynamicRange = 3.2e-6f;
    private readonly IVolume _volume;
    private readonly IImageModel _model;
    private readonly BackgroundRing _ring;
    private readonly BoundedCache<(TileIndex Tile, int Line), LineTile?> _tiles;
    private readonly BoundedCache<(TileIndex Tile, int Line), BlockSummary?> _summaries;
    private readonly BoundedCache<TileIndex, TileEvidence> _evidence;
    private readonly BoundedCache<(TileIndex Tile, int Line), float[]?> _backgrounds;
    private readonly KnownEvidence? _known;
    private readonly int _edge, _blocks;

    public EvidenceField(IVolume volume, IImageModel model, DetectionSettings settings, KnownEvidence? known)
    {
        (_volume, _model, _known) = (volume, model, known);
        Grid = volume.Grid;
        Lines = [.. volume.Looks.Select(l => l.Line).Distinct().Order()];
        _edge = Edge(Grid.Spacing);
        _blocks = VoxelGrid.TileSize / _edge;
        _ring = new BackgroundRing(settings, Grid, _edge);
        int lines = Math.Max(Lines.Count, 1);
        long tileBytes = 4L * 4 * VoxelGrid.TileSize * VoxelGrid.TileSize * Grid.CountZ, summaryBytes = 2L * 4 * _blocks * _blocks * Grid.CountZ;
        _tiles = new((int)Math.Clamp(256_000_000 / tileBytes, 2L * lines, 64L * lines), k => LineTile.Read(_volume, k.Tile, k.Line));
        _summaries = new((int)Math.Max(128_000_000 / summaryBytes, 16L * lines), k => _tiles.Get(k) is { } t ? BlockSummary.Of(t, Grid.CountZ, _edge) : null);
        _backgrounds = new((int)Math.Max(128_000_000 / (summaryBytes / 2), 16L * lines), k => MakeBackground(k.Tile, k.Line));
        _evidence = new((int)Math.Clamp(512_000_000 / (tileBytes / 3), 4, 1024), tile => _known is null ? MakeEvidence(tile) : _known.Memory.Kept.Get(_known.PrintAround(tile, Lines, Grid, Neighbours), _ => MakeEvidence(tile)));
    }

    public VoxelGrid Grid { get; }

    /// <summary>Indices of the survey's lines that have looks.</summary>
    public IReadOnlyList<int> Lines { get; }

    public TileEvidence Evidence(TileIndex tile) => _evidence.Get(tile);

    /// <summary>Evidence of a voxel anywhere; NaN outside.</summary>
    public float RatioAt(int ix, int iy, int iz) =>
        TryLocate(ix, iy, iz, out var tile, out int place) ? Evidence(tile).Ratio[place] : float.NaN;

    /// <summary>A line's amplitude, energy and background in a voxel; false where it wasn't seen.</summary>
    public bool TryLineAt(int line, int ix, int iy, int iz, out float real, out float imaginary, out float background)
    {
        real = imaginary = background = 0;
        if (!TryLocate(ix, iy, iz, out var tile, out int place) || _tiles.Get((tile, line)) is not { } seen || float.IsNaN(seen.Energy[place]))
            return false;
        (real, imaginary) = (seen.Real[place], seen.Imaginary[place]);
        float ring = _backgrounds.Get((tile, line)) is { } blocks ? BlockBackground(blocks, ix % VoxelGrid.TileSize, iy % VoxelGrid.TileSize, iz) : 0;
        background = seen.WithoutSelf(place, ring);
        return background > 0;
    }

    // Tiles on each side whose energy tells of a tile's background.
    private int Neighbours => (Margin + _blocks - 1) / _blocks;

    // Blocks on each side: the ring's reach, and one between whose centre and the tile's the background is interpolated.
    private int Margin => 1 + _ring.Halo;

    private bool TryLocate(int ix, int iy, int iz, out TileIndex tile, out int place)
    {
        (tile, place) = (default, 0);
        if (!Grid.Holds(ix, iy) || (uint)iz >= (uint)Grid.CountZ)
            return false;
        (tile, int start) = Grid.Locate(ix, iy);
        place = start + iz;
        return true;
    }

    // The power of two whose block is nearest to a fifth of a metre.
    private static int Edge(double spacing)
    {
        int edge = 1;
        while (edge < 32 && edge * 2 * spacing <= 0.28)
            edge *= 2;
        return edge;
    }

    private TileEvidence MakeEvidence(TileIndex tile)
    {
        int levels = Grid.CountZ, length = VoxelGrid.TileSize * VoxelGrid.TileSize * levels;
        var ratio = new float[length];
        var lines = new byte[length];
        var reach = new float[TileEvidence.Side * TileEvidence.Side * levels];
        foreach (int line in Lines)
        {
            if (_tiles.Get((tile, line)) is not { } seen || _backgrounds.Get((tile, line)) is not { } background)
                continue;
            Accumulate(seen, background, ratio, lines, reach);
        }
        for (int i = 0; i < length; i++)
            ratio[i] = lines[i] > 0 ? (float)TileEvidence.Together(ratio[i], lines[i]) : float.NaN;
        return new(ratio, lines, reach);
    }

    private void Accumulate(LineTile seen, float[] background, float[] ratio, byte[] lines, float[] reach)
    {
        int levels = Grid.CountZ;
        Span<float> column = stackalloc float[levels];
        for (int y = 0; y < VoxelGrid.TileSize; y++)
            for (int x = 0; x < VoxelGrid.TileSize; x++)
            {
                int start = (y * VoxelGrid.TileSize + x) * levels;
                FillColumn(background, x, y, column);
                bool isReach = x % TileEvidence.Step == TileEvidence.Step / 2 && y % TileEvidence.Step == TileEvidence.Step / 2;
                int reachStart = (y / TileEvidence.Step * TileEvidence.Side + x / TileEvidence.Step) * levels;
                for (int z = 0; z < levels; z++)
                {
                    float energy = seen.Energy[start + z], expected = seen.WithoutSelf(start + z, column[z]);
                    if (!(energy >= 0) || !(expected > 0))
                        continue;
                    ratio[start + z] += MathF.Sqrt(energy / expected);
                    if (isReach)
                        reach[reachStart + z] += 1 / MathF.Sqrt(expected);
                    if (lines[start + z] < byte.MaxValue)
                        lines[start + z]++;
                }
            }
    }

    private void FillColumn(float[] background, int x, int y, Span<float> column)
    {
        for (int z = 0; z < column.Length; z++)
            column[z] = BlockBackground(background, x, y, z);
    }

    // Bilinear between the centres of blocks; the square has one block more on each side than the tile.
    private float BlockBackground(float[] background, int x, int y, int z)
    {
        float fx = (x + 0.5f) / _edge + 0.5f, fy = (y + 0.5f) / _edge + 0.5f;
        int bx = (int)fx, by = (int)fy, wide = _blocks + 2, levels = Grid.CountZ;
        fx -= bx;
        fy -= by;
        int at = (by * wide + bx) * levels + z;
        float a = background[at], b = background[at + levels], c = background[at + wide * levels], d = background[at + (wide + 1) * levels];
        return (1 - fy) * ((1 - fx) * a + fx * b) + fy * ((1 - fx) * c + fx * d);
    }

    private float[]? MakeBackground(TileIndex tile, int line)
    {
        if (_tiles.Get((tile, line)) is null)
            return null;
        int count = _blocks + 2, wide = count + 2 * _ring.Halo, levels = Grid.CountZ;
        var mean = new float[wide * wide * levels];
        var greatest = new float[wide * wide * levels];
        Array.Fill(mean, -1);
        Array.Fill(greatest, -1);
        Gather(tile, line, wide, mean, greatest);
        double easting = Grid.EastingAt(tile.X * VoxelGrid.TileSize + 32), northing = Grid.NorthingAt(tile.Y * VoxelGrid.TileSize + 32);
        var blur = _model.BlurAt(line, easting, northing, Grid.BurialAt(0.5 * levels));
        double cell = Math.PI / 6 * blur.Along * blur.Across * blur.Burial, block = Math.Pow(_edge * Grid.Spacing, 2) * Grid.Spacing;
        var background = _ring.Background(mean, greatest, count, Math.Min(block / cell, _edge * _edge));
        Floor(background, tile, line, count, greatest, wide);
        return background;
    }

    private void Gather(TileIndex tile, int line, int wide, float[] mean, float[] greatest)
    {
        int levels = Grid.CountZ;
        for (int y = 0; y < wide; y++)
            for (int x = 0; x < wide; x++)
            {
                int gx = tile.X * _blocks + x - Margin, gy = tile.Y * _blocks + y - Margin;
                if (gx < 0 || gy < 0 || gx >= Grid.TilesX * _blocks || gy >= Grid.TilesY * _blocks)
                    continue;
                if (_summaries.Get((new TileIndex(gx / _blocks, gy / _blocks), line)) is not { } summary)
                    continue;
                int from = (gy % _blocks * _blocks + gx % _blocks) * levels, to = (y * wide + x) * levels;
                Array.Copy(summary.Mean, from, mean, to, levels);
                Array.Copy(summary.Greatest, from, greatest, to, levels);
            }
    }

    private void Floor(float[] background, TileIndex tile, int line, int count, float[] greatest, int wide)
    {
        int levels = Grid.CountZ;
        float strongest = 0;
        for (int i = 0; i < wide * wide * levels; i++)
            strongest = Math.Max(strongest, greatest[i]);
        for (int y = 0; y < count; y++)
            for (int x = 0; x < count; x++)
            {
                double easting = Grid.EastingAt((tile.X * _blocks + x - 0.5) * _edge), northing = Grid.NorthingAt((tile.Y * _blocks + y - 0.5) * _edge);
                float noise = 0;
                for (int z = 0; z < levels; z++)
                {
                    if (z % 4 == 0)
                        noise = NoiseEnergy(line, easting, northing, Grid.BurialAt(Math.Min(z + 2, levels - 1)));
                    int at = (y * count + x) * levels + z;
                    background[at] = Math.Max(Math.Max(background[at], noise), Math.Max(DynamicRange * strongest, float.Epsilon));
                }
            }
    }

    private float NoiseEnergy(int line, double easting, double northing, double burial)
    {
        double noise = _model.NoiseAt(line, easting, northing, burial);
        return double.IsFinite(noise) ? (float)(noise * noise) : 0;
    }
}
