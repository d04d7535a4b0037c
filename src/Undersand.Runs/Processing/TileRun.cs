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
    private readonly Dictionary<(TileIndex Tile, int Line), string> _prints = [];

    /// <summary>How far the seabed may have moved since a line was imaged under it for that to stay, metres; null where it must be the same.</summary>
    public double? MostMoved { get; init; }

    /// <summary>Tiles found whole from an earlier run.</summary>
    public int TakenOver { get; private set; }

    /// <summary>Tiles in which a line stays imaged under a seabed that has moved since.</summary>
    public int Provisional { get; private set; }

    /// <summary>How far at most, metres.</summary>
    public double Moved { get; private set; }

    /// <summary>What a tile was made from under a line, after <see cref="Run"/>; null where the line may not see it.</summary>
    public string? PrintOf(TileIndex tile, int line) => _prints.GetValueOrDefault((tile, line));

    /// <summary>Does it; the number of tiles.</summary>
    public int Run()
    {
        var tiles = InOrder().ToList();
        progress.Begin("Summing the echoes", tiles.Count, "tiles");
        foreach (var tile in tiles)
        {
            cancellation.ThrowIfCancellationRequested();
            string? text = volume.TileFingerprint(tile);
            TileMark there = TileMark.Parse(text), mark = WantedOf(tile, there);
            if (text == mark.ToString())
            {
                TakenOver++;
                progress.TakeOver();
                continue;
            }
            Make(tile, there, mark);
            progress.Advance();
        }
        if (TakenOver > 0)
            progress.Message($"{TakenOver} of {tiles.Count} tiles were there already and were kept.");
        return tiles.Count;
    }

    // What the tile is to be made from: under a line that is there, the seabed of then, where it may stay.
    private TileMark WantedOf(TileIndex tile, TileMark there)
    {
        var wanted = new Dictionary<string, LineMark>();
        bool isProvisional = false;
        foreach (int line in imager.LinesNear(tile))
        {
            var (name, recording) = lines[line];
            LineMark before = there.Lines.GetValueOrDefault(name), now = LineMark.Of(RunPrints.Of(recording, imager.PlaceOf(tile)), RunPrints.Of("", imager.SeabedOf(tile, line)), imager.SeabedUnder(tile, line));
            bool stays = before != now && Stays(before, now);
            wanted[name] = stays ? before : now;
            _prints[(tile, line)] = stays ? $"{before} under a seabed that has moved" : now.ToString();
            isProvisional |= stays;
        }
        if (isProvisional)
            Provisional++;
        return new TileMark(wanted);
    }

    private bool Stays(LineMark before, LineMark now)
    {
        if (MostMoved is null || before.Recording != now.Recording || now.FarFrom(before) is var moved && moved > MostMoved)
            return false;
        Moved = Math.Max(Moved, moved);
        return true;
    }

    private void Make(TileIndex tile, TileMark there, TileMark wanted)
    {
        if (there.Lines.Count == 0)
            volume.ClearTile(tile);
        int[] near = [.. imager.LinesNear(tile)];
        for (int line = 0; line < lines.Count; line++)
            if (there.Lines.GetValueOrDefault(lines[line].Name) != wanted.Lines.GetValueOrDefault(lines[line].Name))
                Make(tile, line, near.Contains(line));
        var seen = new LookSums?[near.Length];
        threads.For(near.Length, i => seen[i] = LookSums.OfLine(volume, tile, near[i]), cancellation);
        volume.WriteTogether(tile, LinesTogether.Of(seen));
        volume.MarkTile(tile, wanted.ToString());
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
