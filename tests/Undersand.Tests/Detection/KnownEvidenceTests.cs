using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class KnownEvidenceTests
{
    [Fact]
    public void What_changed_and_what_is_beside_it_is_weighed_again_and_the_rest_is_not_even_read()
    {
        var memory = new EvidenceMemory(100);
        Probabilities(Volume(strength: 12), memory, print: "before", out TileIndex[] read);
        Assert.Equal(5, read.Distinct().Count());

        float[] expected = Probabilities(Volume(strength: 40), null, "", out _);
        Assert.Equal(expected, Probabilities(Volume(strength: 40), memory, "after", out read));
        Assert.Equal([0, 1, 2], read.Select(t => t.X).Distinct().Order());
    }

    [Fact]
    public void What_does_not_fit_is_forgotten()
    {
        Probabilities(Volume(strength: 12), new EvidenceMemory(1), "before", out TileIndex[] read);
        Assert.Equal(5, read.Distinct().Count());
        var none = new EvidenceMemory(1);
        float[] once = Probabilities(Volume(strength: 12), none, "before", out _);
        Assert.Equal(once, Probabilities(Volume(strength: 12), none, "before", out read));
        Assert.Equal(5, read.Distinct().Count());
    }

    [Fact]
    public void What_could_not_be_read_is_said_as_it_is_and_read_again()
    {
        var memory = new EvidenceMemory(100);
        SyntheticVolume volume = Volume(strength: 12);
        Assert.Throws<SurveyException>(() => Probabilities(volume, memory, "before", out _, damaged: true));
        Assert.Equal(Probabilities(volume, null, "", out _), Probabilities(volume, memory, "before", out _));
    }

    // Five tiles in a row, with a point in the first, whose fingerprint is told.
    private static SyntheticVolume Volume(double strength)
    {
        var volume = new SyntheticVolume(5 * VoxelGrid.TileSize, VoxelGrid.TileSize, 30, 1);
        volume.AddSpeckle(0, 21);
        volume.AddPoint(0, 1.5, 1.5, 0.7, strength);
        return volume;
    }

    private static float[] Probabilities(SyntheticVolume volume, EvidenceMemory? memory, string print, out TileIndex[] read, bool damaged = false)
    {
        var counted = new Counted(volume, damaged);
        var detector = new Detector(DetectorTests.SurveyOf(), counted, volume, new DetectionSettings(), memory is null ? null : new KnownEvidence(memory, (tile, _) => tile.X == 0 ? print : $"tile {tile.X}"));
        detector.LearnNull(null, TestContext.Current.CancellationToken);
        float[] all = [.. volume.Grid.Tiles().SelectMany(detector.ProbabilityOf)];
        read = [.. counted.Tiles];
        return all;
    }

    private sealed class Counted(SyntheticVolume volume, bool damaged) : IVolume
    {
        public System.Collections.Concurrent.ConcurrentQueue<TileIndex> Tiles { get; } = new();

        public VoxelGrid Grid => volume.Grid;

        public IReadOnlyList<Look> Looks => volume.Looks;

        public LookSums? Read(TileIndex tile, int look)
        {
            Tiles.Enqueue(tile);
            return damaged && tile.X == 3 ? throw new SurveyException("volume.zarr", null, "a chunk is cut short", "process the survey again") : volume.Read(tile, look);
        }
    }
}
