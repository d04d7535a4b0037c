namespace Undersand.Storage.Surveys;

/// <summary>Where the lines lie: refuses folders into which two surveys were mixed.</summary>
internal static class SurveyExtent
{
    /// <summary>Lines of one survey are nearer to another of its lines, metres. Our own choice, no source.</summary>
    private const double FarthestNeighbour = 1000;
    private const int PingsLookedAt = 500;

    private sealed record Box(string Name, double West, double East, double South, double North, double Depth)
    {
        public double GapTo(Box other)
        {
            double e = Math.Max(0, Math.Max(West - other.East, other.West - East)), n = Math.Max(0, Math.Max(South - other.North, other.South - North));
            return Math.Sqrt(e * e + n * n);
        }
    }

    /// <summary>Checks the lines against each other.</summary>
    /// <returns>Mean depth of the sources, metres, to a quarter: with one line more, the sound's speed and with it the image of all others should not change in their last digits.</returns>
    public static double Check(IReadOnlyList<SegyLine> lines)
    {
        Box[] boxes = [.. lines.Select(BoxOf)];
        var joined = new List<Box> { boxes[0] };
        var apart = boxes.Skip(1).ToList();
        while (apart.FindIndex(box => joined.Exists(other => other.GapTo(box) <= FarthestNeighbour)) is >= 0 and var next)
        {
            joined.Add(apart[next]);
            apart.RemoveAt(next);
        }
        if (apart.Count > 0)
        {
            Box far = apart[0], near = joined.MinBy(box => box.GapTo(far))!;
            throw new SurveyException(far.Name, "bytes 73–88", $"this line lies {far.GapTo(near) / 1000:0.#} km from the nearest other, {near.Name}: two surveys are mixed", "put each survey into a folder of its own");
        }
        return Math.Round(4 * boxes.Average(box => box.Depth)) / 4;
    }

    private static Box BoxOf(SegyLine line)
    {
        double west = double.MaxValue, east = double.MinValue, south = double.MaxValue, north = double.MinValue, depth = 0;
        int count = Math.Min(line.PingCount, PingsLookedAt), used = 0;
        for (int i = 0; i < count; i++)
        {
            Ping ping = line.PingAt((int)((long)i * line.PingCount / count));
            if (ping.Source.Easting == 0 && ping.Source.Northing == 0)
                continue;
            (west, east) = (Math.Min(west, ping.Source.Easting), Math.Max(east, ping.Source.Easting));
            (south, north) = (Math.Min(south, ping.Source.Northing), Math.Max(north, ping.Source.Northing));
            depth += ping.Source.Depth;
            used++;
        }
        return used == 0
            ? throw new SurveyException(line.Name, "bytes 73–80", "the sources have no coordinates", "write eastings and northings there, or give navigation.csv and array.json")
            : new Box(line.Name, west, east, south, north, depth / used);
    }
}
