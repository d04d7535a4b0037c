using Undersand.Imaging.Conditioning;
using Undersand.Imaging.Focusing;
using Undersand.Imaging.Gain;
using Undersand.Imaging.Seabed;

namespace Undersand.Imaging;

/// <summary>Images a survey, tile by tile, from lines already scanned; and tells what its images look like.</summary>
/// <remarks>Frozen on construction; a tile is a pure function of it. One tile at a time; within a tile the work is spread over threads.</remarks>
public sealed class SurveyImager : IImageModel
{
    private const int ExtentStep = 16;
    private readonly LineImager[] _lines;
    private readonly PointSpread[] _spreads;
    private readonly EchoLeak[] _leaks;
    private readonly ImagingSettings _settings;

    /// <summary>From the scans of all lines.</summary>
    public SurveyImager(Survey survey, IReadOnlyList<LineScan> scans, ImagingSettings settings, ParallelOptions parallel)
    {
        _settings = settings;
        Focus = new FocusSettings(survey.Water.SoundSpeed, survey.Sediment.SoundSpeed) { MaxAngle = settings.MaxAngle, Groups = settings.Groups, Engine = settings.PlainEngine ? FocusEngine.Plain : FocusEngine.Vector };
        var heights = scans.Select(Heights).ToArray();
        // In steps, as the grid's extent: a line that flew a little higher, or went on a little farther, should not move the edge that others' tiles end at.
        double swath = Math.Ceiling(2 * heights.Max(h => h.Highest) * Math.Tan(settings.MaxAngle.Radians) + 1) / 2;
        var (west, south, east, north) = Bounds(scans);
        Grid = GridFor(west - swath, south - swath, east + swath, north + swath, survey.Image);
        Seabed = new SeabedModel(scans, Grid.EastingAt(0), Grid.NorthingAt(0), Grid.EastingAt(Grid.TilesX * VoxelGrid.TileSize), Grid.NorthingAt(Grid.TilesY * VoxelGrid.TileSize), swath, survey.Water.SoundSpeed, parallel);
        var cache = new EchoCache(settings.CacheBytes);
        _lines = scans.Select((scan, i) =>
        {
            var conditioner = new Conditioner(scan, survey, settings.Conditioning, Tail(survey, heights[i].Highest, settings.MaxAngle.Radians), cache, parallel);
            var gain = new GainModel(Grid, survey, settings, Focus, scan.Reader.Compressor, heights[i].Lowest, heights[i].Highest);
            return new LineImager(i, scan, conditioner, Seabed, Grid, Focus, gain, parallel);
        }).ToArray();
        _spreads = _lines.Select((line, i) => new PointSpread(scans[i], survey, Focus, MiddlePing(scans[i]), line.AzimuthAt(MiddlePing(scans[i])))).ToArray();
        _leaks = scans.Select(scan => new EchoLeak(scan.Reader.Compressor, survey, Focus)).ToArray();
        Looks = scans.SelectMany((scan, i) => Enumerable.Range(0, settings.Groups).Select(g => new Look(i * settings.Groups + g, i, g, $"{scan.Reader.Line.Name}, {GroupName(g, settings.Groups)}"))).ToArray();
    }

    /// <summary>Where the voxels are; aligned so that tiles stay where they are when lines are added.</summary>
    public VoxelGrid Grid { get; }

    /// <summary>The looks: each line's groups in turn.</summary>
    public IReadOnlyList<Look> Looks { get; }

    /// <summary>The seabed.</summary>
    public SeabedModel Seabed { get; }

    /// <summary>How traces are summed.</summary>
    public FocusSettings Focus { get; }

    /// <summary>Whether the lines run rather north and south than east and west, by their lengths.</summary>
    public bool RunsNorth => _lines.Sum(l => l.Scan.Along[^1] * Math.Abs(Math.Cos(l.AzimuthAt(MiddlePing(l.Scan)).Radians))) > _lines.Sum(l => l.Scan.Along[^1] * Math.Abs(Math.Sin(l.AzimuthAt(MiddlePing(l.Scan)).Radians)));

    /// <summary>Whether any line may see a tile.</summary>
    public bool Sees(TileIndex tile) => _lines.Any(l => l.Sees(tile));

    /// <summary>The lines that may see a tile.</summary>
    public IEnumerable<int> LinesNear(TileIndex tile) => Enumerable.Range(0, _lines.Length).Where(i => _lines[i].Sees(tile));

    /// <summary>What a tile's image depends on beside recordings, seabed and settings, as numbers: where its columns are.</summary>
    public IEnumerable<double> PlaceOf(TileIndex tile)
    {
        int x = tile.X * VoxelGrid.TileSize, y = tile.Y * VoxelGrid.TileSize;
        return [Grid.Spacing, Grid.EastingAt(x), Grid.NorthingAt(y), Math.Min(Grid.CountX - x, VoxelGrid.TileSize), Math.Min(Grid.CountY - y, VoxelGrid.TileSize)];
    }

    /// <summary>All of the seabed that a tile's image under one line depends on, as numbers: the common shape near it, and the line's offsets from it.</summary>
    public IEnumerable<double> SeabedOf(TileIndex tile, int line)
    {
        double west = Grid.EastingAt(tile.X * VoxelGrid.TileSize), south = Grid.NorthingAt(tile.Y * VoxelGrid.TileSize), size = VoxelGrid.TileSize * Grid.Spacing;
        return [Seabed.Shape.Spacing, .. Seabed.Shape.Around(west, south, west + size, south + size, TileSurface.Margin).Select(v => (double)v), .. _lines[line].PingsNear(tile).Select(p => Seabed.OffsetAt(line, p))];
    }

    /// <summary>Depth of the seabed that a tile is imaged under by one line, metres below the surface, in every eighth column and row.</summary>
    public float[] SeabedUnder(TileIndex tile, int line) => _lines[line].SeabedUnder(tile);

    /// <summary>Images a tile under one line.</summary>
    /// <returns>Sums by group; null where the group saw nothing.</returns>
    public LookSums?[] Image(TileIndex tile, int line, CancellationToken cancellation) => _lines[line].Image(tile, cancellation);

    /// <summary>Images the whole survey into memory.</summary>
    public MemoryVolume ImageAll(CancellationToken cancellation = default)
    {
        var volume = new MemoryVolume(Grid, Looks);
        foreach (var tile in Grid.Tiles())
            foreach (int line in LinesNear(tile))
            {
                var sums = Image(tile, line, cancellation);
                for (int g = 0; g < sums.Length; g++)
                    if (sums[g] is { } look)
                        volume.Write(tile, line * sums.Length + g, look);
            }
        return volume;
    }

    /// <inheritdoc/>
    public Blur BlurAt(int line, double easting, double northing, double burial) => _spreads[line].At(burial);

    /// <inheritdoc/>
    public Viewpoint? ViewAt(int line, double easting, double northing)
    {
        var imager = _lines[line];
        var (p, distance) = imager.Nearest(easting, northing);
        if (p < 0 || distance > Reach)
            return null;
        var source = imager.Scan.Reader.Line.PingAt(p).Source;
        var azimuth = imager.AzimuthAt(p);
        double across = (easting - source.Easting) * Math.Cos(azimuth.Radians) - (northing - source.Northing) * Math.Sin(azimuth.Radians);
        return new Viewpoint(imager.Scan.SeabedDepth[p] - source.Depth, source.Depth, azimuth, across, imager.AcrossAperture);
    }

    /// <inheritdoc/>
    public double SeabedDepthAt(double easting, double northing) => Seabed.Common.At(easting, northing);

    /// <inheritdoc/>
    public double NoiseAt(int line, double easting, double northing, double burial)
    {
        var (gain, x, y, node) = GainAt(line, easting, northing, burial);
        double response = gain?.At(gain.Response, x, y, node) ?? 0;
        return response > 0 ? _lines[line].Scan.Noise * Math.Sqrt(gain!.At(gain.Noise, x, y, node)) / response : double.NaN;
    }

    /// <inheritdoc/>
    public double? SeabedReflectionAt(int line, double easting, double northing)
    {
        var (p, distance) = _lines[line].Nearest(easting, northing);
        if (p < 0 || distance > Reach)
            return null;
        var scan = _lines[line].Scan;
        double amplitude = scan.SeabedAmplitude[p], height = scan.SeabedDepth[p] - scan.Reader.Line.PingAt(p).Source.Depth;
        return double.IsFinite(amplitude) && scan.SeabedSnr[p] > 12 ? amplitude * 2 * height : null;
    }

    /// <summary>The source's level in the recordings' unit, as the seabed's own echo has it: its median amplitude over what the sediment as stated would reflect.</summary>
    public double SourceLevelFromSeabed(Survey survey)
    {
        double reflection = Math.Abs(Acoustics.PlaneInterface.NormalReflection(survey.Water.Density, survey.Water.SoundSpeed, survey.Sediment.Density, survey.Sediment.SoundSpeed));
        var levels = _lines.SelectMany(l => Enumerable.Range(0, l.Scan.SeabedDepth.Length).Where(l.Scan.IsUsable).Select(p => (double)l.Scan.SeabedAmplitude[p] * 2 * (l.Scan.SeabedDepth[p] - l.Scan.Reader.Line.PingAt(p).Source.Depth))).Where(double.IsFinite);
        return Signal.Robust.MedianOf(levels) / Math.Max(reflection, 0.01);
    }

    /// <inheritdoc/>
    public PulseSpectrum PulseOf(int line)
    {
        var compressor = _lines[line].Scan.Reader.Compressor;
        return new(compressor.LowFrequency, compressor.HighFrequency, compressor.WeightAt);
    }

    /// <inheritdoc/>
    public double LeakAt(int line, in BuriedPlace from, in BuriedPlace to) => _leaks[line].Greatest(_lines[line].TracesNear(to), from, to);

    private double Reach => Grid.CountZ * Grid.Spacing + 6;

    private (TileGain? Gain, double X, double Y, double Node) GainAt(int line, double easting, double northing, double burial)
    {
        double x = InGrid(easting - Grid.OriginEasting), y = InGrid(northing - Grid.OriginNorthing);
        int tx = Math.Clamp((int)Math.Floor(x) / VoxelGrid.TileSize, 0, Grid.TilesX - 1), ty = Math.Clamp((int)Math.Floor(y) / VoxelGrid.TileSize, 0, Grid.TilesY - 1);
        var gain = _lines[line].GainOf(new TileIndex(tx, ty));
        return (gain, x - tx * VoxelGrid.TileSize, y - ty * VoxelGrid.TileSize, _lines[line].NodeOf((burial - Grid.FirstBurial) / Grid.Spacing));
    }

    // In voxels, whose small parts are the same to the last bit wherever the grid begins.
    private double InGrid(double metres) => Math.Round(metres / Grid.Spacing * 64) / 64;

    private static (double Lowest, double Highest) Heights(LineScan scan)
    {
        double lowest = double.PositiveInfinity, highest = 0.1;
        for (int p = 0; p < scan.SeabedDepth.Length; p++)
        {
            if (!scan.IsUsable(p))
                continue;
            var ping = scan.Reader.Line.PingAt(p);
            foreach (double depth in ping.Receivers.Select(r => r.Position.Depth).Append(ping.Source.Depth))
                (lowest, highest) = (Math.Min(lowest, scan.SeabedDepth[p] - depth), Math.Max(highest, scan.SeabedDepth[p] - depth));
        }
        return (Math.Max(0.05, Math.Min(lowest, highest)), highest);
    }

    private static int MiddlePing(LineScan scan)
    {
        int middle = scan.Along.Length / 2;
        return Enumerable.Range(0, scan.Along.Length).Where(scan.IsUsable).MinBy(p => Math.Abs(p - middle));
    }

    private static (double West, double South, double East, double North) Bounds(IReadOnlyList<LineScan> scans)
    {
        var all = scans.SelectMany(s => Enumerable.Range(0, s.Along.Length).Where(s.IsUsable).Select(p => s.Reader.Line.PingAt(p).Source));
        double west = double.PositiveInfinity, south = double.PositiveInfinity, east = double.NegativeInfinity, north = double.NegativeInfinity;
        foreach (var p in all)
        {
            (west, east) = (Math.Min(west, p.Easting), Math.Max(east, p.Easting));
            (south, north) = (Math.Min(south, p.Northing), Math.Max(north, p.Northing));
        }
        return (west, south, east, north);
    }

    private static VoxelGrid GridFor(double west, double south, double east, double north, ImageSettings image)
    {
        double tile = VoxelGrid.TileSize * image.Voxel;
        double e0 = Math.Floor(west / tile) * VoxelGrid.TileSize * image.Voxel, n0 = Math.Floor(south / tile) * VoxelGrid.TileSize * image.Voxel;
        return new VoxelGrid(e0, n0, image.Voxel, Count(east - e0), Count(north - n0), Math.Max(1, (int)Math.Round(image.MaxBurial / image.Voxel)), image.Voxel);

        int Count(double extent) => ((int)Math.Ceiling(extent / image.Voxel) / ExtentStep + 1) * ExtentStep;
    }

    /// <summary>Time after the seabed's echo that the deepest voxel at the aperture's edge needs.</summary>
    private static double Tail(Survey survey, double height, double angle)
    {
        double c1 = survey.Water.SoundSpeed, c2 = survey.Sediment.SoundSpeed, sine = Math.Min(0.95, Math.Sin(angle) * c2 / c1);
        double burial = survey.Image.MaxBurial + survey.Image.Voxel;
        return 2 * (height * (1 / Math.Cos(angle) - 1) / c1 + burial / Math.Sqrt(1 - sine * sine) / c2) + 0.3e-3;
    }

    private static string GroupName(int group, int groups) => groups switch
    {
        1 => "whole aperture",
        3 => group switch { 0 => "astern", 1 => "abeam", _ => "ahead" },
        _ => $"part {group + 1} of {groups}",
    };
}
