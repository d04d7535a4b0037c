using Undersand.Imaging.Focusing;

namespace Undersand.Imaging.Seabed;

/// <summary>A line's own seabed over a tile: the common shape, shifted to where the nearest ping found it.</summary>
internal sealed class TileSurface : LineSurface
{
    /// <summary>How far outside of the tile the common shape is asked for, metres.</summary>
    public const double Margin = SlopeStep;

    private const double SlopeStep = 0.1;
    private readonly Raster _common;
    private readonly (double Easting, double Northing, double Offset)[] _pings;

    /// <param name="model">The survey's seabed.</param>
    /// <param name="line">Index of the line.</param>
    /// <param name="pings">The pings near the tile: index and position.</param>
    public TileSurface(SeabedModel model, int line, IEnumerable<(int Index, GridPoint Source)> pings)
    {
        _common = model.Shape;
        _pings = pings.Select(p => (p.Source.Easting, p.Source.Northing, model.OffsetAt(line, p.Index))).ToArray();
    }

    /// <summary>Depth alone.</summary>
    public double DepthAt(double easting, double northing)
    {
        double best = double.PositiveInfinity, offset = 0;
        foreach (var (e, n, o) in _pings)
        {
            double d = (e - easting) * (e - easting) + (n - northing) * (n - northing);
            if (d < best)
                (best, offset) = (d, o);
        }
        return _common.At(easting, northing) + offset;
    }

    /// <inheritdoc/>
    public override void At(double easting, double northing, out double depth, out double slopeEast, out double slopeNorth)
    {
        depth = DepthAt(easting, northing);
        slopeEast = (_common.At(easting + SlopeStep, northing) - _common.At(easting - SlopeStep, northing)) / (2 * SlopeStep);
        slopeNorth = (_common.At(easting, northing + SlopeStep) - _common.At(easting, northing - SlopeStep)) / (2 * SlopeStep);
    }
}
