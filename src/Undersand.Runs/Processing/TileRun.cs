using Undersand.Imaging;
using Undersand.Storage.Zarr;

namespace Undersand.Runs.Processing;

/// <summary>Images the tiles that are not there yet, one after another, each written whole.</summary>
internal sealed class TileRun(ZarrVolume volume, SurveyImager imager, Func<TileIndex, string> fingerprint, IProgressSink progress, CancellationToken cancellation)
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
            string print = fingerprint(tile);
            if (volume.TileFingerprint(tile) == print)
                TakenOver++;
            else
                Make(tile, print);
            progress.Advance();
        }
        if (TakenOver > 0)
            progress.Message($"{TakenOver} of {tiles.Count} tiles were there already and were kept.");
        return tiles.Count;
    }

    private void Make(TileIndex tile, string print)
    {
        volume.ClearTile(tile);
        int groups = imager.Focus.Groups;
        foreach (int line in imager.LinesNear(tile))
        {
            var sums = imager.Image(tile, line, cancellation);
            for (int g = 0; g < groups; g++)
                if (sums[g] is { } look && look.Traces.AsSpan().ContainsAnyExcept(0))
                    volume.WriteTile(tile, line * groups + g, look);
        }
        volume.MarkTile(tile, print);
    }

    /// <summary>Along the lines' main direction, so that a recording read for one tile serves the next.</summary>
    private IEnumerable<TileIndex> InOrder()
    {
        var seen = imager.Grid.Tiles().Where(imager.Sees);
        return imager.RunsNorth ? seen.OrderBy(t => t.X).ThenBy(t => t.Y) : seen.OrderBy(t => t.Y).ThenBy(t => t.X);
    }
}
