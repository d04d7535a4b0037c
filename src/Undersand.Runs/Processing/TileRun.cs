using Undersand.Imaging;
using Undersand.Storage.Zarr;

namespace Undersand.Runs.Processing;

/// <summary>Images what is not there yet, tile after tile and in each line by line; a tile is whole once it is marked.</summary>
internal sealed class TileRun(ZarrVolume volume, SurveyImager imager, Func<TileIndex, int, string> fingerprint, Parallelism threads, IProgressSink progress, CancellationToken cancellation)
{
    /// <summary>Tiles found whole from an earlier run.</summary>
    public int TakenOver { get; private set; }

    /// <summary>Does it; the number of tiles.</summary>
    public int Run()
    {
        var tiles = InOrder().ToList();
        progress.Begin("Summing the echoes", tiles.Count, "tiles");
        foreach (var tile in tiles)
        {
            cancellation.ThrowIfCancellationRequested();
            if (Make(tile))
                progress.Advance();
            else
                progress.TakeOver();
        }
        if (TakenOver > 0)
            progress.Message($"{TakenOver} of {tiles.Count} tiles were there already and were kept.");
        return tiles.Count;
    }

    // False where it was there already.
    private bool Make(TileIndex tile)
    {
        string? text = volume.TileFingerprint(tile);
        TileMark there = TileMark.Parse(text), wanted = new(imager.LinesNear(tile).ToDictionary(line => line, line => fingerprint(tile, line)));
        if (text == wanted.ToString())
        {
            TakenOver++;
            return false;
        }
        if (there.Prints.Count == 0)
            volume.ClearTile(tile);
        foreach (int line in there.Prints.Keys.Union(wanted.Prints.Keys).Where(line => there.Prints.GetValueOrDefault(line) != wanted.Prints.GetValueOrDefault(line)).Order())
            Make(tile, line, wanted.Prints.ContainsKey(line));
        volume.WriteTogether(tile, LinesTogether.Of(volume, tile));
        volume.MarkTile(tile, wanted.ToString());
        return true;
    }

    private void Make(TileIndex tile, int line, bool isSeen)
    {
        int groups = imager.Focus.Groups;
        for (int g = 0; g < groups; g++)
            volume.ClearLook(tile, line * groups + g);
        if (!isSeen)
            return;
        var sums = imager.Image(tile, line, cancellation);
        threads.For(groups, g =>
        {
            if (sums[g] is { } look && look.Traces.AsSpan().ContainsAnyExcept(0))
                volume.WriteTile(tile, line * groups + g, look);
        }, cancellation);
    }

    /// <summary>Along the lines' main direction, so that a recording read for one tile serves the next.</summary>
    private IEnumerable<TileIndex> InOrder()
    {
        var seen = imager.Grid.Tiles().Where(imager.Sees);
        return imager.RunsNorth ? seen.OrderBy(t => t.X).ThenBy(t => t.Y) : seen.OrderBy(t => t.Y).ThenBy(t => t.X);
    }
}
