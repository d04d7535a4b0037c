using Undersand.Imaging;
using Undersand.Storage.Zarr;

namespace Undersand.Runs.Processing;

/// <summary>Images what is not there yet, tile after tile and in each line by line; a tile is whole once it is marked.</summary>
/// <param name="volume">Where to.</param>
/// <param name="imager">Of all lines.</param>
/// <param name="lines">Name and fingerprint of each.</param>
/// <param name="threads">How many.</param>
/// <param name="progress">Told the tiles.</param>
/// <param name="cancellation">Stops between lines of a tile.</param>
internal sealed class TileRun(ZarrVolume volume, SurveyImager imager, IReadOnlyList<(string Name, string Print)> lines, Parallelism threads, IProgressSink progress, CancellationToken cancellation)
{
    private readonly Dictionary<TileIndex, string> _marks = [];

    /// <summary>Tiles found whole from an earlier run.</summary>
    public int TakenOver { get; private set; }

    /// <summary>What a tile was made from, after <see cref="Run"/>; of none for one that no line may see.</summary>
    public string MarkOf(TileIndex tile) => _marks.GetValueOrDefault(tile, "");

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
        int[] near = [.. imager.LinesNear(tile)];
        TileMark there = TileMark.Parse(text), wanted = new(near.ToDictionary(line => lines[line].Name, line => RunPrints.Of(lines[line].Print, imager.PlaceOf(tile, line))));
        string mark = _marks[tile] = wanted.ToString();
        if (text == mark)
        {
            TakenOver++;
            return false;
        }
        if (there.Prints.Count == 0)
            volume.ClearTile(tile);
        for (int line = 0; line < lines.Count; line++)
            if (there.Prints.GetValueOrDefault(lines[line].Name) != wanted.Prints.GetValueOrDefault(lines[line].Name))
                Make(tile, line, near.Contains(line));
        var seen = new LookSums?[near.Length];
        threads.For(near.Length, i => seen[i] = LookSums.OfLine(volume, tile, near[i]), cancellation);
        volume.WriteTogether(tile, LinesTogether.Of(seen));
        volume.MarkTile(tile, mark);
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
