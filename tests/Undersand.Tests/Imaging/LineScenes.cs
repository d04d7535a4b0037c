using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Simulation;
using Undersand.Tests.Simulation;

namespace Undersand.Tests.Imaging;

/// <summary>Small surveys of one straight line to the east, and what Imaging makes of them.</summary>
internal static class LineScenes
{
    public const double East = SmallScenes.East, North = SmallScenes.North, SeabedDepth = 6;
    public static readonly ParallelOptions OneThread = new() { MaxDegreeOfParallelism = 1 };
    public static readonly ParallelOptions TwoThreads = new() { MaxDegreeOfParallelism = 2 };

    /// <summary>Receivers in a row across the track, the source above their middle.</summary>
    public static ArrayDescription Row(int count, double width) =>
        new([new BodyOffset(0.3, 0, 0)], [.. Enumerable.Range(0, count).Select(i => new BodyOffset(0, count == 1 ? 0 : width * (i / (count - 1.0) - 0.5), 0))], [], []);

    /// <summary>A line of some metres, pings 8 cm apart.</summary>
    public static SurveyPlan Plan(double length, ArrayDescription? array = null, double height = 0.9, double heave = 0.015, double noise = 0.02) => new()
    {
        Lines = [new PlannedLine("line-01.sgy", East, North, Angle.FromDegrees(90), length, 0.8)],
        Array = array ?? Row(4, 0.6),
        Waveform = new Waveform(4000, 18000, 0.004, 0.1),
        SampleInterval = 20e-6,
        FirstSampleTime = 0,
        SampleCount = 500,
        PingInterval = 0.1,
        Height = height,
        SourcePressure = 1000,
        PascalPerUnit = 1,
        Motion = new Motion { Height = heave, Period = 2.5 },
        Disturbances = new Disturbances { WhiteNoise = noise },
        Paths = new Paths { Direct = 0.3 },
        Image = new ImageSettings(1.5, 0.05),
    };

    public static (Survey Survey, MemoryLine Line) Simulate(SurveyPlan plan, Scene? scene = null, int seed = 3)
    {
        var made = Simulator.Run(scene ?? SmallScenes.Empty(), plan, seed, 2);
        return (made.Survey, MemoryLine.Of(made.Lines[0]));
    }

    public static LineScan Scan(Survey survey, ISurveyLine line, ConditioningSettings? settings = null) =>
        new LineScanner(survey, settings ?? new(), TwoThreads).Scan(line);

    public static SurveyImager Image(Survey survey, LineScan scan, ImagingSettings? settings = null) =>
        new(survey, [scan], settings ?? new(), TwoThreads);

    /// <summary>Complex amplitude of the whole aperture at the voxel nearest to a place.</summary>
    public static System.Numerics.Complex At(SurveyImager imager, double easting, double northing, double burial)
    {
        var grid = imager.Grid;
        int x = (int)Math.Round((easting - grid.OriginEasting) / grid.Spacing), y = (int)Math.Round((northing - grid.OriginNorthing) / grid.Spacing), z = (int)Math.Round((burial - grid.FirstBurial) / grid.Spacing);
        return Column(Tile(imager, x, y), grid, x, y)[z];
    }

    public static LookSums?[] Tile(SurveyImager imager, int x, int y) =>
        imager.Image(new TileIndex(x / VoxelGrid.TileSize, y / VoxelGrid.TileSize), 0, CancellationToken.None);

    /// <summary>Amplitude of all groups together at each level of a column.</summary>
    public static System.Numerics.Complex[] Column(LookSums?[] groups, VoxelGrid grid, int x, int y)
    {
        var column = new System.Numerics.Complex[grid.CountZ];
        for (int z = 0; z < grid.CountZ; z++)
        {
            System.Numerics.Complex sum = 0;
            double traces = 0;
            foreach (var g in groups.OfType<LookSums>())
            {
                int at = g.ColumnStart(x % VoxelGrid.TileSize, y % VoxelGrid.TileSize) + z;
                sum += new System.Numerics.Complex(g.Real[at], g.Imaginary[at]);
                traces += g.Traces[at];
            }
            column[z] = traces > 0 ? sum / traces : 0;
        }
        return column;
    }

    /// <summary>The greatest amplitude within some distance and range of burial, with its place.</summary>
    public static (double Amplitude, double Easting, double Northing, double Burial) Peak(SurveyImager imager, double easting, double northing, double fromBurial, double toBurial, double within = 0.15)
    {
        var grid = imager.Grid;
        var best = (Amplitude: 0.0, Easting: 0.0, Northing: 0.0, Burial: 0.0);
        int reach = (int)(within / grid.Spacing), cx = (int)Math.Round((easting - grid.OriginEasting) / grid.Spacing), cy = (int)Math.Round((northing - grid.OriginNorthing) / grid.Spacing);
        var tiles = new Dictionary<(int, int), LookSums?[]>();
        for (int y = cy - reach; y <= cy + reach; y++)
            for (int x = cx - reach; x <= cx + reach; x++)
            {
                var key = (x / VoxelGrid.TileSize, y / VoxelGrid.TileSize);
                if (!tiles.TryGetValue(key, out var groups))
                    tiles[key] = groups = Tile(imager, x, y);
                var column = Column(groups, grid, x, y);
                for (int z = 0; z < grid.CountZ; z++)
                    if (grid.BurialAt(z) >= fromBurial && grid.BurialAt(z) <= toBurial && column[z].Magnitude > best.Amplitude)
                        best = (column[z].Magnitude, grid.EastingAt(x), grid.NorthingAt(y), grid.BurialAt(z));
            }
        return best;
    }
}
