using Undersand.Workbench.Results;

namespace Undersand.Workbench.Pictures;

/// <summary>Cuts the volume into bricks for looking at it from the side: entries of the quantity's colour map, 0 where nobody looked.</summary>
/// <remarks>
/// A brick is 64 columns by 64 rows by all levels, from the south-west and the seabed; eastings run fastest, then northings, then burial. At level k a voxel stands for
/// <c>2^k</c> voxels each way and holds the greatest of them, so that a small body is seen from afar.
/// </remarks>
internal sealed class VolumeBricks(OpenedResults results, SectionTiles sections)
{
    public const int Side = VoxelGrid.TileSize, MostLevel = 8, MostBytes = 256 * 256 * 256;

    // Bricks of a survey's voxels are a quarter of a megabyte each.
    private readonly KeptPictures<(string, int, int, int), byte[]> _bricks = new(128);
    private readonly VoxelGrid _grid = results.Volume.Grid;

    /// <summary>Levels of burial at a level.</summary>
    public int Deep(int level) => (_grid.CountZ + (1 << level) - 1) >> level;

    /// <summary>A brick; empty where nobody looked at any of it, null where quantity, level or place is none.</summary>
    public byte[]? Brick(string name, int level, int x, int y)
    {
        if (level is < 0 or > MostLevel || Side * Side * Deep(level) > MostBytes || !Holds(level, x, y) || sections.Quantities.FirstOrDefault(q => q.Name == name) is not { } quantity)
            return null;
        return Made(quantity, level, x, y);
    }

    private bool Holds(int level, int x, int y) => x >= 0 && y >= 0 && (long)x << level < _grid.TilesX && (long)y << level < _grid.TilesY;

    private byte[] Made(Quantity quantity, int level, int x, int y) => _bricks.Get((quantity.Name, level, x, y), _ => level == 0 ? Turned(quantity, new TileIndex(x, y)) : Coarser(quantity, level, x, y));

    // A tile's columns, laid out level by level.
    private byte[] Turned(Quantity quantity, TileIndex tile)
    {
        if (sections.Tile(tile) is not { } image)
            return [];
        byte[] entries = image.Of(quantity), brick = new byte[entries.Length];
        int levels = _grid.CountZ;
        for (int column = 0; column < Side * Side; column++)
            for (int z = 0; z < levels; z++)
                brick[z * Side * Side + column] = entries[column * levels + z];
        return brick;
    }

    private byte[] Coarser(Quantity quantity, int level, int x, int y)
    {
        byte[]? brick = null;
        for (int quarter = 0; quarter < 4; quarter++)
        {
            int fx = 2 * x + quarter % 2, fy = 2 * y + quarter / 2;
            if (!Holds(level - 1, fx, fy) || Made(quantity, level - 1, fx, fy) is not { Length: > 0 } finer)
                continue;
            brick ??= new byte[Side * Side * Deep(level)];
            int corner = quarter / 2 * (Side / 2) * Side + quarter % 2 * (Side / 2);
            for (int i = 0; i < finer.Length; i++)
            {
                int z = i / (Side * Side), row = i / Side % Side, column = i % Side;
                ref byte into = ref brick[(z / 2 * Side + row / 2) * Side + corner + column / 2];
                into = Math.Max(into, finer[i]);
            }
        }
        return brick ?? [];
    }
}
