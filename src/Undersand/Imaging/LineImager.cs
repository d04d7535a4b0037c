using System.Collections.Concurrent;
using Undersand.Imaging.Conditioning;
using Undersand.Imaging.Focusing;
using Undersand.Imaging.Gain;
using Undersand.Imaging.Seabed;

namespace Undersand.Imaging;

/// <summary>Images tiles under one line.</summary>
internal sealed class LineImager
{
    /// <summary>Where fewer traces than this part of the line's most support a voxel, or less than one, it counts as not seen.</summary>
    private const double LeastSupport = 0.3;

    /// <summary>Beyond the line's ends, or in a gap longer than <see cref="LeastGap"/> metres, this many metres on still count as seen: farther, traces look from one side alone, and layers and the seabed's own rest end there like bodies.</summary>
    private const double BeyondEnd = 0.2, LeastGap = 1;

    private const int SeabedStep = 8;

    /// <summary>Some 40 kB each.</summary>
    private const int GainsKept = 1024;

    private readonly int _line;
    private readonly LineScan _scan;
    private readonly Conditioner _conditioner;
    private readonly SeabedModel _seabed;
    private readonly VoxelGrid _grid;
    private readonly FocusSettings _focus;
    private readonly GainModel _gain;
    private readonly ParallelOptions _parallel;
    private readonly PingBlock[] _blocks;
    private readonly double[] _mostSupport;
    private readonly bool[,] _gapFrom;
    private readonly ConcurrentDictionary<TileIndex, TileGain?> _gains = new();

    public LineImager(int line, LineScan scan, Conditioner conditioner, SeabedModel seabed, VoxelGrid grid, FocusSettings focus, GainModel gain, ParallelOptions parallel)
    {
        (_line, _scan, _conditioner, _seabed, _grid, _focus, _gain, _parallel) = (line, scan, conditioner, seabed, grid, focus, gain, parallel);
        _blocks = Enumerable.Range(0, conditioner.BlockCount).Select(b => new PingBlock(scan, b)).ToArray();
        _mostSupport = MostSupport();
        _gapFrom = Gaps();
        AcrossAperture = MeasureAcrossAperture();
    }

    /// <summary>The scan that it images from.</summary>
    public LineScan Scan => _scan;

    /// <summary>Width across the track that the receivers span, metres.</summary>
    public double AcrossAperture { get; }

    /// <summary>Whether the line may see anything of a tile.</summary>
    public bool Sees(TileIndex tile) => Near(tile).Any();

    /// <summary>The pings whose offset from the common seabed the tile's surface may take.</summary>
    public IEnumerable<int> PingsNear(TileIndex tile) => Near(tile).SelectMany(b => b.Sources).Select(s => s.Index);

    /// <summary>A tile's sums by group, scaled to reflectivity; null where nothing was seen.</summary>
    public LookSums?[] Image(TileIndex tile, CancellationToken cancellation)
    {
        var groups = new LookSums?[_focus.Groups];
        var near = Near(tile).ToList();
        if (near.Count == 0)
            return groups;
        var surface = SurfaceOver(near);
        foreach (var block in near)
        {
            cancellation.ThrowIfCancellationRequested();
            Focuser.Focus(_grid, tile, Echoes(block), surface, _focus, groups, _parallel.MaxDegreeOfParallelism, cancellation);
        }
        if (GainOf(tile) is not { } gain)
            return new LookSums?[_focus.Groups];
        Scale(groups, tile, gain);
        return groups;
    }

    /// <summary>Depth of the line's own seabed over a tile, in every <see cref="SeabedStep"/>th column and row.</summary>
    public float[] SeabedUnder(TileIndex tile)
    {
        var surface = SurfaceOver(Near(tile));
        var depths = new List<float>();
        for (int y = SeabedStep / 2; y < VoxelGrid.TileSize; y += SeabedStep)
            for (int x = SeabedStep / 2; x < VoxelGrid.TileSize; x += SeabedStep)
                depths.Add((float)surface.DepthAt(_grid.EastingAt(tile.X * VoxelGrid.TileSize + x), _grid.NorthingAt(tile.Y * VoxelGrid.TileSize + y)));
        return [.. depths];
    }

    /// <summary>The gain of a tile; null where the line does not see it.</summary>
    public TileGain? GainOf(TileIndex tile)
    {
        // A pure function: which are kept changes the time it takes, never a result. A large survey has more tiles than memory.
        if (_gains.Count > GainsKept)
            _gains.Clear();
        return _gains.GetOrAdd(tile, MakeGain);
    }

    private TileGain? MakeGain(TileIndex tile)
    {
        var near = Near(tile).ToList();
        return near.Count == 0 ? null : GainUnder(tile, near, SurfaceOver(near).DepthAt);
    }

    private TileSurface SurfaceOver(IEnumerable<PingBlock> near) => new(_seabed, _line, near.SelectMany(b => b.Sources));

    private TileGain GainUnder(TileIndex tile, IEnumerable<PingBlock> near, Func<double, double, double> seabed) => _gain.Of(tile, near.SelectMany(b => b.Traces(_scan)).ToList(), seabed, _parallel);

    /// <summary>Node of a level in a <see cref="TileGain"/>.</summary>
    public double NodeOf(double iz) => _gain.NodeOf(iz);

    /// <summary>The ping whose source is nearest to a place, and its distance; −1 where none has a seabed.</summary>
    public (int Ping, double Distance) Nearest(double easting, double northing)
    {
        int best = -1;
        double nearest = double.PositiveInfinity;
        foreach (var block in _blocks)
        {
            if (block.DistanceTo(easting, northing) > nearest)
                continue;
            foreach (var (p, at) in block.Sources)
            {
                double d = Math.Sqrt((at.Easting - easting) * (at.Easting - easting) + (at.Northing - northing) * (at.Northing - northing));
                if (d < nearest)
                    (nearest, best) = (d, p);
            }
        }
        return (best, nearest);
    }

    /// <summary>Direction of the track around a ping, over about a metre.</summary>
    public Angle AzimuthAt(int ping)
    {
        int a = ping, b = ping;
        while (a > 0 && _scan.Along[ping] - _scan.Along[a] < 0.5)
            a--;
        while (b < _scan.Along.Length - 1 && _scan.Along[b] - _scan.Along[ping] < 0.5)
            b++;
        GridPoint from = _scan.Reader.Line.PingAt(a).Source, to = _scan.Reader.Line.PingAt(b).Source;
        return new Angle(Math.Atan2(to.Easting - from.Easting, to.Northing - from.Northing));
    }

    /// <summary>The good traces whose source may see a place.</summary>
    public IEnumerable<(GridPoint Source, GridPoint Receiver)> TracesNear(BuriedPlace place)
    {
        double reach = _gain.Reach;
        foreach (var block in _blocks)
            if (block.Overlaps(place.Easting - reach, place.Northing - reach, place.Easting + reach, place.Northing + reach))
                foreach (var trace in block.Traces(_scan))
                    if (Math.Abs(trace.Source.Easting - place.Easting) <= reach && Math.Abs(trace.Source.Northing - place.Northing) <= reach)
                        yield return trace;
    }

    private IEnumerable<PingBlock> Near(TileIndex tile)
    {
        double size = VoxelGrid.TileSize * _grid.Spacing;
        double west = _grid.EastingAt(tile.X * VoxelGrid.TileSize), south = _grid.NorthingAt(tile.Y * VoxelGrid.TileSize);
        return _blocks.Where(b => b.Overlaps(west - _gain.Reach, south - _gain.Reach, west + size + _gain.Reach, south + size + _gain.Reach));
    }

    private EchoSet Echoes(PingBlock block)
    {
        var conditioned = _conditioner.Block(block.Index);
        var compressor = _scan.Reader.Compressor;
        var sources = new GridPoint[conditioned.Traces.Length];
        var receivers = new GridPoint[sources.Length];
        for (int i = 0; i < sources.Length; i++)
        {
            var (p, r) = conditioned.Traces[i];
            var ping = _scan.Reader.Line.PingAt(p);
            (sources[i], receivers[i]) = (ping.Source, ping.Receivers[r].Position);
        }
        int middle = Math.Min(block.Index * Conditioner.BlockSize + Conditioner.BlockSize / 2, _scan.Along.Length - 1);
        return new EchoSet(compressor.Carrier, compressor.Interval, conditioned.SampleCount, AzimuthAt(middle), conditioned.StartTimes, sources, receivers, conditioned.Samples);
    }

    private void Scale(LookSums?[] groups, TileIndex tile, TileGain gain) => Parallel.For(0, VoxelGrid.TileSize * VoxelGrid.TileSize, _parallel, column =>
    {
        int ix = column % VoxelGrid.TileSize, iy = column / VoxelGrid.TileSize;
        bool isBeyond = IsBeyondEnds(_grid.EastingAt(tile.X * VoxelGrid.TileSize + ix), _grid.NorthingAt(tile.Y * VoxelGrid.TileSize + iy));
        for (int iz = 0; iz < _grid.CountZ; iz++)
        {
            double node = _gain.NodeOf(iz), weight = gain.At(gain.Weight, ix, iy, node), response = gain.At(gain.Response, ix, iy, node);
            double most = Interpolate(_mostSupport, node);
            float factor = isBeyond || weight < Math.Max(1, LeastSupport * most) || response <= 0 ? 0 : (float)(gain.At(gain.Traces, ix, iy, node) / response);
            int at = column * _grid.CountZ + iz;
            foreach (var sums in groups)
            {
                if (sums is null)
                    continue;
                sums.Real[at] *= factor;
                sums.Imaginary[at] *= factor;
                sums.SumOfSquares[at] *= factor * factor;
                if (factor == 0)
                    sums.Traces[at] = 0;
            }
        }
    });

    private bool IsBeyondEnds(double easting, double northing)
    {
        int ping = Nearest(easting, northing).Ping;
        if (ping < 0)
            return true;
        var at = _scan.Reader.Line.PingAt(ping).Source;
        var azimuth = AzimuthAt(ping);
        double ahead = (easting - at.Easting) * Math.Sin(azimuth.Radians) + (northing - at.Northing) * Math.Cos(azimuth.Radians);
        return Math.Abs(ahead) > BeyondEnd && _gapFrom[ping, ahead > 0 ? 1 : 0];
    }

    private static double Interpolate(double[] values, double place)
    {
        int i = Math.Min((int)place, Math.Max(values.Length - 2, 0)), j = Math.Min(i + 1, values.Length - 1);
        return values[i] + (place - i) * (values[j] - values[i]);
    }

    /// <summary>The typical support straight under the track, by level node: the median over some tiles along the line, each over a level seabed where the line itself found it, so that no other line has a say.</summary>
    private double[] MostSupport()
    {
        var samples = new List<double[]>();
        for (int b = 0; b < _blocks.Length; b += Math.Max(1, _blocks.Length / 8))
        {
            if (_blocks[b].Sources.Count == 0)
                continue;
            var (ping, at) = _blocks[b].Sources[_blocks[b].Sources.Count / 2];
            int x = (int)Math.Floor((at.Easting - _grid.OriginEasting) / _grid.Spacing), y = (int)Math.Floor((at.Northing - _grid.OriginNorthing) / _grid.Spacing);
            if (x < 0 || y < 0 || x >= _grid.CountX || y >= _grid.CountY)
                continue;
            var tile = new TileIndex(x / VoxelGrid.TileSize, y / VoxelGrid.TileSize);
            var gain = GainUnder(tile, Near(tile), (_, _) => _scan.SeabedDepth[ping]);
            samples.Add(Enumerable.Range(0, _gain.Levels).Select(k => gain.At(gain.Weight, x % VoxelGrid.TileSize, y % VoxelGrid.TileSize, k)).ToArray());
        }
        return Enumerable.Range(0, _gain.Levels).Select(k => samples.Count == 0 ? 0 : Signal.Robust.MedianOf(samples.Select(s => s[k]))).ToArray();
    }

    /// <summary>For each ping, whether there is no other usable one near behind it, and near ahead.</summary>
    private bool[,] Gaps()
    {
        var usable = Enumerable.Range(0, _scan.Along.Length).Where(_scan.IsUsable).ToArray();
        var steps = usable.Zip(usable.Skip(1), (a, b) => _scan.Along[b] - _scan.Along[a]).ToArray();
        double gap = steps.Length == 0 ? LeastGap : Math.Max(LeastGap, 4 * Signal.Robust.MedianOf(steps));
        var gaps = new bool[_scan.Along.Length, 2];
        for (int i = 0; i < usable.Length; i++)
        {
            gaps[usable[i], 0] = i == 0 || steps[i - 1] > gap;
            gaps[usable[i], 1] = i == usable.Length - 1 || steps[i] > gap;
        }
        return gaps;
    }

    private double MeasureAcrossAperture()
    {
        int middle = _scan.Along.Length / 2;
        var ping = _scan.Reader.Line.PingAt(middle);
        var azimuth = AzimuthAt(middle);
        double sin = Math.Sin(azimuth.Radians), cos = Math.Cos(azimuth.Radians);
        var across = ping.Receivers.Select(r => (r.Position.Easting - ping.Source.Easting) * cos - (r.Position.Northing - ping.Source.Northing) * sin).ToList();
        return across.Max() - across.Min();
    }
}
