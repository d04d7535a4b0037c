using Undersand.Acoustics;

namespace Undersand.Imaging.Focusing;

/// <summary>Travel times to the voxels of one column by exact rays through the column's seabed plane, in double precision: what every engine is held to.</summary>
internal readonly struct ExactPath
{
    private readonly double _c1, _c2, _cosine, _sineSquared, _easting, _northing, _depth, _slopeEast, _slopeNorth;

    public ExactPath(TileColumns columns, int column, FocusSettings settings)
    {
        (_c1, _c2) = (settings.WaterSoundSpeed, settings.SedimentSoundSpeed);
        (_easting, _northing, _depth) = (columns.Easting[column], columns.Northing[column], columns.Depth[column]);
        (_slopeEast, _slopeNorth) = (columns.SlopeEast[column], columns.SlopeNorth[column]);
        double steepness = _slopeEast * _slopeEast + _slopeNorth * _slopeNorth;
        _cosine = 1 / Math.Sqrt(1 + steepness);
        _sineSquared = steepness / (1 + steepness);
    }

    /// <summary>One-way time between a transducer and the voxel at a burial, seconds.</summary>
    public double LegTime(GridPoint transducer, double burial)
    {
        double dx = _easting - transducer.Easting, dy = _northing - transducer.Northing, dz = _depth - transducer.Depth;
        double height = (dz - _slopeEast * dx - _slopeNorth * dy) * _cosine;
        double offsetSquared = dx * dx + dy * dy + dz * dz - height * height + 2 * burial * (dz - height * _cosine) + burial * burial * _sineSquared;
        return Refraction.LegTime(height, burial * _cosine, Math.Sqrt(Math.Max(0, offsetSquared)), _c1, _c2);
    }
}
