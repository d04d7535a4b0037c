namespace Undersand.Runs.Reporting;

/// <summary>How good the lines are.</summary>
internal static class LinePages
{
    private const int MostStrips = 48;

    public static IEnumerable<Block> Blocks(SurveyResult result)
    {
        yield return new Heading(1, "Lines and their quality", "lines");
        if (result.Lines.Count == 0)
        {
            yield return new Paragraph("No line was processed.");
            yield break;
        }
        yield return Geometry(result);
        yield return Signal(result);
        IReadOnlyList<LineResult> shown = [.. result.Lines.Take(MostStrips)];
        for (int first = 0; first < shown.Count; first += LineStrips.Most)
        {
            LineResult[] some = [.. shown.Skip(first).Take(LineStrips.Most)];
            yield return new Figure(LineStrips.Draw(some, first + 1),
                $"Source and seabed along the lines, depth below the water surface growing downwards; distances along the track. The scale of depth is stretched.{(result.Lines.Count > shown.Count ? $" The first {shown.Count} of {result.Lines.Count} lines are shown; survey.gpkg holds all." : "")}",
                $"Profiles of the source’s depth and the seabed along lines {first + 1} to {first + some.Length}; mean heights are in the table.");
        }
    }

    private static Table Geometry(SurveyResult result) => new("The lines",
        [new("No."), new("Recording"), new("Pings", "", true), new("Used", "", true), new("Length", "m", true), new("Ping spacing", "m", true), new("Speed", "m/s", true), new("Mean height", "m", true), new("Receivers", "", true), new("Dead", "numbers")],
        [.. result.Lines.Select((l, i) => (IReadOnlyList<string>)
        [
            $"L{i + 1}", l.Name, $"{l.Quality.Pings}", $"{l.Quality.PingsUsed}", Numbers.Fixed(l.Quality.Length, 1), Numbers.Fixed(l.Quality.PingSpacing, 2),
            l.Quality.MeanSpeed is double v ? Numbers.Fixed(v, 2) : "–", Numbers.Fixed(l.Quality.MeanHeight, 2), $"{l.Quality.Receivers}",
            l.Quality.DeadReceivers.Count == 0 ? "none" : string.Join(", ", l.Quality.DeadReceivers),
        ])]);

    private static Table Signal(SurveyResult result) => new("Their recordings",
        [new("No."), new("Noise", "recording’s units", true), new("Seabed over noise", "dB", true), new("Silent traces", "left out", true), new("Clipped traces", "", true), new("Bursts", "pings", true), new("Seabed bridged", "pings", true), new("Tones removed", "Hz")],
        [.. result.Lines.Select((l, i) => (IReadOnlyList<string>)
        [
            $"L{i + 1}", Numbers.Significant(l.Quality.NoiseLevel, 2), Numbers.Fixed(l.Quality.SeabedSnrDb, 1), $"{l.Quality.DropOuts}", $"{l.Quality.ClippedTraces}", $"{l.Quality.Bursts}", $"{l.Quality.SeabedBridged}",
            l.Quality.TonesRemoved.Count == 0 ? "none" : string.Join(", ", l.Quality.TonesRemoved.Select(f => Numbers.Fixed(f, 0))),
        ])]);
}
