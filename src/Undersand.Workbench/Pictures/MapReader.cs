using Undersand.Storage.GeoTiff;

namespace Undersand.Workbench.Pictures;

/// <summary>Values of a map, of which the tile last read is at hand.</summary>
/// <param name="map">The map.</param>
/// <param name="tile">Gives the values of a tile: level, tiles eastwards, tiles southwards.</param>
internal sealed class MapReader(GeoTiffMap map, Func<int, int, int, float[]> tile)
{
    private (int Level, int X, int Y) _at = (-1, -1, -1);
    private float[] _values = [];

    /// <summary>The value at a place; NaN where there is no data.</summary>
    /// <param name="easting">In metres.</param>
    /// <param name="northing">In metres.</param>
    /// <param name="level">The overview, as far as there are any.</param>
    public double At(double easting, double northing, int level = 0) => map.ValueAt(easting, northing, Math.Min(level, map.Levels.Count - 1), Tile);

    private float[] Tile(int level, int x, int y)
    {
        if (_at != (level, x, y))
            (_at, _values) = ((level, x, y), tile(level, x, y));
        return _values;
    }
}
