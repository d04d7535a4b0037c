using System.Diagnostics;
using Undersand.Storage;
using Undersand.Storage.Geo;
using Undersand.Storage.GeoPackage;
using Undersand.Storage.GeoTiff;
using Undersand.Storage.Zarr;

namespace Undersand.Runs.Tests.Storage;

/// <summary>Every writer on a disk of a quarter of a megabyte that fills up under it.</summary>
public sealed class FullDiskTests : IDisposable
{
    private readonly ScratchFolder _folder = new();
    private readonly bool _mounted;

    public FullDiskTests()
    {
        _mounted = OperatingSystem.IsLinux() && Environment.IsPrivilegedProcess && Run("mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", _folder.Path);
        if (_mounted)
            return;
        _folder.Dispose();
        Assert.Skip("a tiny disk can't be mounted: run as root on Linux where mount is permitted");
    }

    public void Dispose()
    {
        if (_mounted)
            Run("umount", "-l", _folder.Path);
        _folder.Dispose();
    }

    public static TheoryData<string> Writers() => ["text", "map", "database", "targets", "volume"];

    [Theory]
    [MemberData(nameof(Writers))]
    public void A_disk_that_fills_up_is_said_in_one_sentence_and_only_whole_files_are_left(string writer)
    {
        var e = Assert.Throws<SurveyException>(() => Write(writer));
        Assert.Contains(": the disk is full; free some space", e.Message);
        Assert.DoesNotContain('\n', e.Message);
        Assert.DoesNotContain(Directory.GetFiles(_folder.Path, "*", SearchOption.AllDirectories), f => f.EndsWith(".tmp", StringComparison.Ordinal));
        Assert.DoesNotContain(Directory.GetFiles(_folder.Path, "*", SearchOption.AllDirectories), f => f.Contains("journal"));
    }

    [Fact]
    public void A_volume_on_a_full_disk_holds_no_half_tile()
    {
        var grid = new VoxelGrid(500000, 5760980, 0.05, 640, 640, 4, 0);
        ZarrVolume volume = ZarrVolume.Create(_folder["volume.zarr"], grid, [new Look(0, 0, 0, "a")], Results.Utm31, "made up");
        Assert.Throws<SurveyException>(() => Fill(volume));
        ZarrVolume read = ZarrVolume.Open(_folder["volume.zarr"]);
        TileIndex[] there = [.. grid.Tiles().Where(t => read.HasTile(t, 0))];
        Assert.NotEmpty(there);
        Assert.All(there, t => Assert.Equal(Noise(4).Real, read.Read(t, 0)!.Real));
    }

    private void Write(string writer)
    {
        switch (writer)
        {
            case "text":
                WholeFile.WriteText(_folder["note.txt"], new string('x', 300_000));
                break;
            case "map":
                var random = new Random(1);
                GeoTiffWriter.WriteCloudOptimised(_folder["map.tif"], Results.Map(400, 400, (x, y) => random.NextSingle()), Results.Utm31, "noise", "m");
                break;
            case "database":
                SurveyGeoPackage.Write(_folder["survey.gpkg"], Results.Small(pings: 3000));
                break;
            case "targets":
                TargetsGeoJson.Write(_folder["targets.geojson"], Results.Small() with { Targets = [.. Enumerable.Range(0, 1000).Select(i => Results.Target("T" + i, i * 0.01))] });
                break;
            default:
                Fill(ZarrVolume.Create(_folder["volume.zarr"], new VoxelGrid(500000, 5760980, 0.05, 640, 640, 4, 0), [new Look(0, 0, 0, "a")], Results.Utm31, "made up"));
                break;
        }
    }

    private static void Fill(ZarrVolume volume)
    {
        LookSums noise = Noise(volume.Grid.CountZ);
        foreach (TileIndex tile in volume.Grid.Tiles())
            volume.WriteTile(tile, 0, noise);
    }

    private static LookSums Noise(int levels)
    {
        var random = new Random(1);
        var sums = new LookSums(levels);
        for (int i = 0; i < sums.Real.Length; i += 8)
            sums.Real[i] = random.NextSingle();
        return sums;
    }

    private static bool Run(string program, params string[] args)
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(program, args) { RedirectStandardError = true, RedirectStandardOutput = true })!;
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
