namespace Undersand.Runs.Reporting;

/// <summary>Survey lines on a map; each is numbered at its start.</summary>
internal static class TrackMarks
{
    public static void Draw(MapFrame frame, IReadOnlyList<LineResult> lines, bool numbers)
    {
        frame.Drawing.Clip(frame.Map, () =>
        {
            foreach (LineResult line in lines)
                frame.Drawing.Path(Track(frame, line), new(Ink.Track, Tokens.Thin));
        });
        if (!numbers)
            return;
        var taken = new List<Box>();
        for (int i = 0; i < lines.Count; i++)
            Number(frame, lines[i], i + 1, taken);
    }

    // Pings nearer than a tenth of a millimetre say nothing more; a gap in the recording is a gap in the line.
    private static List<IReadOnlyList<Spot>> Track(MapFrame frame, LineResult line)
    {
        var parts = new List<IReadOnlyList<Spot>>();
        var part = new List<Spot>();
        double gap = Math.Max(5 * line.Quality.PingSpacing, 1);
        GridPoint? last = null;
        foreach (PingResult ping in line.Pings)
        {
            if (last is GridPoint l && l.HorizontalDistanceTo(ping.Source) > gap && part.Count > 0)
            {
                parts.Add(part);
                part = [];
            }
            Spot spot = frame.At(ping.Source.Easting, ping.Source.Northing);
            if (part.Count == 0 || Math.Abs(spot.X - part[^1].X) + Math.Abs(spot.Y - part[^1].Y) > 0.1)
                part.Add(spot);
            last = ping.Source;
        }
        parts.Add(part);
        parts.RemoveAll(p => p.Count < 2);
        return parts;
    }

    private static void Number(MapFrame frame, LineResult line, int number, List<Box> taken)
    {
        if (line.Pings.Count == 0)
            return;
        GridPoint start = line.Pings[0].Source, next = line.Pings[Math.Min(line.Pings.Count - 1, line.Pings.Count / 4)].Source;
        Spot at = frame.At(start.Easting, start.Northing), on = frame.At(next.Easting, next.Northing);
        double length = Math.Max(1e-6, Math.Sqrt((on.X - at.X) * (on.X - at.X) + (on.Y - at.Y) * (on.Y - at.Y)));
        double x = at.X - 2.2 * (on.X - at.X) / length, y = at.Y - 2.2 * (on.Y - at.Y) / length + 0.9;
        var style = new TextStyle(Tokens.LabelSmall, Ink.Track, Anchor.Middle, Plate: true);
        Box box = SvgWriter.Plate(new(x, y, $"L{number}", style));
        frame.Drawing.Disc(at.X, at.Y, 0.5, null, Ink.Track);
        if (!frame.Map.Holds(box) || taken.Any(box.Overlaps))
            return;
        taken.Add(box);
        frame.Drawing.Text(x, y, $"L{number}", style);
    }
}
