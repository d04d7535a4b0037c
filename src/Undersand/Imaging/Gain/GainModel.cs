using Undersand.Acoustics;
using Undersand.Imaging.Focusing;
using Undersand.Signal;

namespace Undersand.Imaging.Gain;

/// <summary>Works out how a line's sums answer to a point of unit strength and to noise.</summary>
internal sealed class GainModel
{
    private readonly LegTable _legs;
    private readonly double[] _absorption;
    private readonly double _absorptionStep;
    private readonly Aperture _aperture;
    private readonly VoxelGrid _grid;

    /// <summary>For one line whose transducers fly between these heights above the seabed.</summary>
    public GainModel(VoxelGrid grid, Survey survey, ImagingSettings settings, FocusSettings focus, PulseCompressor compressor, double lowest, double highest)
    {
        _grid = grid;
        int nodes = Math.Min(grid.CountZ, 13);
        var burials = new double[nodes];
        for (int k = 0; k < nodes; k++)
            burials[k] = grid.BurialAt(nodes == 1 ? 0 : k * (grid.CountZ - 1.0) / (nodes - 1));
        _aperture = new Aperture(focus, grid);
        Reach = _aperture.Outer.Reach(highest, burials[^1]);
        _legs = new LegTable(lowest, highest, Reach, burials, survey, settings);
        // Absorption over the whole path in the sediment takes the pulse's high frequencies first: its peak falls as the mean over the band.
        double longest = 2 * burials[^1] / Math.Cos(Math.Asin(Math.Min(Math.Sin(_aperture.OuterAngle) * survey.Sediment.SoundSpeed / survey.Water.SoundSpeed, 0.999))) + 0.5;
        _absorption = new double[128];
        _absorptionStep = longest / (_absorption.Length - 1);
        double water = settings.UndoAbsorption ? Absorption.FrancoisGarrison(compressor.Carrier, survey.Water.Temperature, survey.Water.Salinity) / 1000 : 0;
        WaterLoss = Math.Pow(10, -water * 2 * highest / 20);
        for (int i = 0; i < _absorption.Length; i++)
            _absorption[i] = settings.UndoAbsorption ? PulseShape.Amplitude(compressor, survey.Sediment.AttenuationDbPerMetrePerKhz * i * _absorptionStep) : 1;
    }

    /// <summary>The greatest offset of a transducer from a voxel that counts, metres.</summary>
    public double Reach { get; }

    /// <summary>What the water's own absorption leaves of an echo (a fraction of a percent at these ranges).</summary>
    public double WaterLoss { get; }

    /// <summary>Levels of a <see cref="TileGain"/>: nodes in burial.</summary>
    public int Levels => _legs.Burials.Length;

    /// <summary>The level node, a fraction, of a level of the grid.</summary>
    public double NodeOf(double iz) => Levels == 1 ? 0 : iz * (Levels - 1.0) / (_grid.CountZ - 1);

    /// <summary>Works out a tile's nodes from the traces that saw it.</summary>
    /// <param name="tile">The tile.</param>
    /// <param name="traces">Source and receiver of each trace.</param>
    /// <param name="seabed">Depth of the line's seabed at a place.</param>
    /// <param name="parallel">Threads.</param>
    public TileGain Of(TileIndex tile, IReadOnlyList<(GridPoint Source, GridPoint Receiver)> traces, Func<double, double, double> seabed, ParallelOptions parallel)
    {
        var gain = new TileGain(Levels);
        Parallel.For(0, TileGain.Side * TileGain.Side, parallel, node =>
        {
            double e = _grid.EastingAt(tile.X * VoxelGrid.TileSize + node % TileGain.Side * TileGain.Step);
            double n = _grid.NorthingAt(tile.Y * VoxelGrid.TileSize + node / TileGain.Side * TileGain.Step);
            Node(gain, node, e, n, seabed(e, n), traces);
        });
        return gain;
    }

    private void Node(TileGain gain, int node, double e, double n, double depth, IReadOnlyList<(GridPoint Source, GridPoint Receiver)> traces)
    {
        Span<double> down = stackalloc double[Levels], downLength = stackalloc double[Levels], up = stackalloc double[Levels], upLength = stackalloc double[Levels];
        GridPoint? last = null;
        double sourceHeight = 0, sourceOffset = 0;
        foreach (var (source, receiver) in traces)
        {
            if (last != source)
            {
                (last, sourceHeight, sourceOffset) = (source, depth - source.Depth, Offset(source, e, n));
                if (sourceOffset <= Reach)
                    _legs.At(sourceHeight, sourceOffset, false, down, downLength);
            }
            double receiverHeight = depth - receiver.Depth, receiverOffset = Offset(receiver, e, n);
            if (sourceOffset > Reach || receiverOffset > Reach)
                continue;
            var (open, full) = _aperture.Burials(sourceHeight, sourceOffset, receiverHeight, receiverOffset);
            if (open >= _legs.Burials[^1])
                continue;
            _legs.At(receiverHeight, receiverOffset, true, up, upLength);
            double slope = 1 / Math.Max(full - open, Aperture.ShortestRamp * _grid.Spacing);
            for (int k = 0; k < Levels; k++)
            {
                double w = Math.Clamp((_legs.Burials[k] - open) * slope, 0, 1);
                if (w <= 0)
                    continue;
                int at = node * Levels + k;
                gain.Response[at] += w * down[k] * up[k] * WaterLoss * AbsorptionOver(downLength[k] + upLength[k]);
                gain.Noise[at] += w * w;
                gain.Weight[at] += w;
                gain.Traces[at]++;
            }
        }
    }

    private double AbsorptionOver(double length)
    {
        double x = Math.Min(length / _absorptionStep, _absorption.Length - 1.001);
        int i = (int)x;
        return _absorption[i] + (x - i) * (_absorption[i + 1] - _absorption[i]);
    }

    private static double Offset(GridPoint p, double e, double n) => Math.Sqrt((p.Easting - e) * (p.Easting - e) + (p.Northing - n) * (p.Northing - n));
}
