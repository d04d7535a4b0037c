namespace Undersand;

/// <summary>Where voxels are: a grid aligned with easting and northing, its third axis burial below the local seabed.</summary>
/// <remarks>Column (0, 0) is centred on the origin; eastings grow with <c>ix</c>, northings with <c>iy</c>, burial with <c>iz</c>. Holds no values.</remarks>
/// <param name="OriginEasting">Easting of the centre of column 0.</param>
/// <param name="OriginNorthing">Northing of the centre of row 0.</param>
/// <param name="Spacing">Edge of a voxel, metres.</param>
/// <param name="CountX">Columns eastwards.</param>
/// <param name="CountY">Rows northwards.</param>
/// <param name="CountZ">Levels of burial.</param>
/// <param name="FirstBurial">Burial of level 0, metres.</param>
public sealed record VoxelGrid(double OriginEasting, double OriginNorthing, double Spacing, int CountX, int CountY, int CountZ, double FirstBurial)
{
    /// <summary>Columns and rows of a tile, the unit of work.</summary>
    public const int TileSize = 64;

    /// <summary>Tiles eastwards.</summary>
    public int TilesX => (CountX + TileSize - 1) / TileSize;

    /// <summary>Tiles northwards.</summary>
    public int TilesY => (CountY + TileSize - 1) / TileSize;

    /// <summary>Easting of a column, which may be a fraction.</summary>
    public double EastingAt(double ix) => At(OriginEasting, ix);

    /// <summary>Northing of a row, which may be a fraction.</summary>
    public double NorthingAt(double iy) => At(OriginNorthing, iy);

    /// <summary>Burial of a level, which may be a fraction.</summary>
    public double BurialAt(double iz) => FirstBurial + iz * Spacing;

    /// <summary>The column nearest to a place; false outside the grid.</summary>
    public bool TryColumn(double easting, double northing, out int ix, out int iy)
    {
        (ix, iy) = ((int)Math.Round((easting - OriginEasting) / Spacing), (int)Math.Round((northing - OriginNorthing) / Spacing));
        return Holds(ix, iy);
    }

    /// <summary>Whether there is such a column.</summary>
    public bool Holds(int ix, int iy) => (uint)ix < (uint)CountX && (uint)iy < (uint)CountY;

    /// <summary>The tile that holds a column, and where the column starts in the tile's arrays.</summary>
    public (TileIndex Tile, int Start) Locate(int ix, int iy) =>
        (new TileIndex(ix / TileSize, iy / TileSize), (iy % TileSize * TileSize + ix % TileSize) * CountZ);

    /// <summary>The tiles, row by row from the south-west.</summary>
    public IEnumerable<TileIndex> Tiles()
    {
        for (int y = 0; y < TilesY; y++)
            for (int x = 0; x < TilesX; x++)
                yield return new TileIndex(x, y);
    }

    /// <summary>How many columns and rows of this grid lie before the first of another that has the same columns and rows where both have any; null where they don't.</summary>
    public (int Columns, int Rows)? StepsTo(VoxelGrid other)
    {
        if (Spacing != other.Spacing || CountZ != other.CountZ || FirstBurial != other.FirstBurial)
            return null;
        double x = Math.Round((other.OriginEasting - OriginEasting) / Spacing), y = Math.Round((other.OriginNorthing - OriginNorthing) / Spacing);
        return EastingAt(x) == other.EastingAt(0) && NorthingAt(y) == other.NorthingAt(0) ? ((int)x, (int)y) : null;
    }

    // Counted in whole spacings from 0 and not from the origin, so that a column lies at the same number, to the last bit, in every grid that has it.
    private double At(double origin, double index)
    {
        const double Rounding = 1e-8;
        double first = Math.Round(origin / Spacing), rest = origin - first * Spacing;
        return (first + index) * Spacing + (Math.Abs(rest) < Rounding ? 0 : rest);
    }
}

/// <summary>A tile of a voxel grid.</summary>
/// <param name="X">Eastwards, from 0.</param>
/// <param name="Y">Northwards, from 0.</param>
public readonly record struct TileIndex(int X, int Y);
