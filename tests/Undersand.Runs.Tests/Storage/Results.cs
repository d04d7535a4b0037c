using NodaTime;
using Undersand.Positioning;

namespace Undersand.Runs.Tests.Storage;

/// <summary>Made-up results for the writers, and a folder that goes away.</summary>
internal static class Results
{
    public static ProjectedCrs Utm31 { get; } = ProjectedCrs.TryFromEpsg(32631, out var crs) ? crs : throw new InvalidOperationException();

    public static Raster Map(int countX, int countY, Func<int, int, float> value, double spacing = 0.05) =>
        new(500000 + spacing / 2, 5761000 - countY * spacing + spacing / 2, spacing, countX, countY,
            [.. from y in Enumerable.Range(0, countY) from x in Enumerable.Range(0, countX) select value(x, y)]);

    public static Target Target(string id, double logOdds, params string[] notes) => new()
    {
        Id = id,
        Position = new GridPoint(500012.34567, 5760990.98765, 6.1),
        HorizontalSd = 0.0421,
        EllipseMajor = 0.055,
        EllipseMinor = 0.02,
        EllipseAzimuth = Angle.FromDegrees(30),
        BurialDepth = new Estimate(0.7315, 0.018),
        Length = 0.31,
        Width = 0.22,
        Azimuth = Angle.FromDegrees(179.97),
        Probability = new Probability(logOdds),
        LogBayesFactor = logOdds + 9,
        ReflectionRelativeToSeabed = -1.23456,
        MaterialProbabilities = new Dictionary<Material, double>
        {
            [Material.Other] = 0.05, [Material.Iron] = 0.5, [Material.Stone] = 0.25, [Material.Ceramic] = 0.1, [Material.Timber] = 0.1, [Material.Gas] = 0,
        },
        LinesSeen = 2,
        Looks = 3,
        Notes = notes,
    };

    public static SurveyResult Small(int pings = 40)
    {
        var time = Instant.FromUtc(2026, 5, 4, 9, 30, 0);
        PingResult Ping(int line, int i) => new(
            i + 1, time + Duration.FromMilliseconds(1000 * line + 137 * i), new GridPoint(500001 + 0.25 * i, 5760985 + 3 * line, 5.1),
            i % 7 == 3 ? null : 6.0 + 0.01 * i, i % 7 != 3, i % 7 == 3 ? null : 31.234567);
        LineResult Line(int line) => new($"line-{line}.sgy", Quality($"line-{line}.sgy", pings), [.. Enumerable.Range(0, pings).Select(i => Ping(line, i))]);
        var survey = new Survey
        {
            Name = "Made-up flats, “north”", Epsg = 32631, Water = new Water(1507), Sediment = new Sediment(1650, 1950, 0.48),
            Assumptions = [new("temperature", "10 °C", "default")], Cautions = [new("line-1.sgy", "a gap in the navigation")],
        };
        return new SurveyResult
        {
            Survey = survey,
            Lines = [Line(0), Line(1), new LineResult("line-2.sgy", Quality("line-2.sgy", 1), [Ping(2, 0)])],
            Grid = new VoxelGrid(500000.025, 5760980.025, 0.05, 400, 400, 20, 0),
            Targets = [Target("T2", 3), Target("T1", 8, "=seen once", "at the edge"), Target("T0", -2)],
            Views = [],
            Seabed = Map(400, 400, (x, y) => x < 20 ? float.NaN : 6 + 0.001f * x),
            GreatestProbability = Map(400, 400, (x, y) => 0.5f),
            BurialOfGreatest = Map(400, 400, (x, y) => 1f),
            CouldHaveSeen = Map(400, 400, Seen),
            ReferenceDiameter = 0.2,
            NullTails = [],
            CellVolume = 0.001,
            NewestPing = time,
            Cautions = [new("everywhere", "probabilities are not calibrated")],
            Steps = [new("compress", new Dictionary<string, string> { ["b"] = "2", ["a"] = "1" })],
        };
    }

    // A plate with a hole, an island in the hole, and two squares that meet at a corner.
    private static float Seen(int x, int y)
    {
        int u = x / 10, v = y / 10;
        bool hole = u is >= 10 and < 20 && v is >= 10 and < 20, island = u is >= 13 and < 16 && v is >= 13 and < 16;
        bool plate = u is >= 5 and < 30 && v is >= 5 and < 30, corner = u is >= 30 and < 33 && v is >= 30 and < 33;
        return island ? 2.2f : hole ? float.NaN : plate ? (u < 15 ? 1.2f : 0.7f) : corner ? 1.2f : float.NaN;
    }

    private static LineQuality Quality(string name, int pings) => new()
    {
        Name = name, Pings = pings, PingsUsed = pings - 1, Receivers = 20, DeadReceivers = [3, 17], NoiseLevel = 0.00123456789, SeabedSnrDb = 33.3,
        MeanHeight = 0.9, MeanSpeed = 1.8, PingSpacing = 0.25, Length = 10, TonesRemoved = [12000.04],
    };
}

/// <summary>A temporary folder that is deleted with its content.</summary>
internal sealed class ScratchFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("undersand-").FullName;

    public string this[string name] => System.IO.Path.Combine(Path, name);

    /// <summary>All files below, with their content: to compare two runs.</summary>
    public static SortedDictionary<string, string> Fingerprints(string folder) => new(
        Directory.GetFiles(folder, "*", SearchOption.AllDirectories).ToDictionary(
            f => System.IO.Path.GetRelativePath(folder, f),
            f => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(f)))), StringComparer.Ordinal);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
