using System.Text.Json;

namespace Undersand.Bench.Viewers;

/// <summary>What there is to look at, as the page learns it.</summary>
internal sealed class View
{
    private readonly List<string> _maps, _sections, _lines;
    private readonly double[] _extent, _origin, _resolutions;
    private readonly int _levels;

    private View(JsonElement view)
    {
        List<string> Names(string of, string name = "name") => [.. view.GetProperty(of).EnumerateArray().Select(e => e.GetProperty(name).GetString()!)];
        double[] Numbers(string of) => [.. view.GetProperty(of).EnumerateArray().Select(e => e.GetDouble())];
        (_maps, _sections, _lines, Targets) = (Names("maps"), Names("sections"), Names("lines"), Names("targets", "id"));
        (_extent, _origin, _resolutions) = (Numbers("extent"), Numbers("origin"), Numbers("resolutions"));
        _levels = view.GetProperty("volume").GetProperty("levels").GetInt32();
    }

    public IReadOnlyList<string> Targets { get; }

    public static async Task<View> AskAsync(HttpClient client)
    {
        using JsonDocument json = JsonDocument.Parse(await client.GetStringAsync("/api/view"));
        return new View(json.RootElement);
    }

    /// <summary>A picture that someone might look at: of the map, of a level slice, or of a section.</summary>
    public string AnyPicture(Random random)
    {
        int z = random.Next(_resolutions.Length);
        double tile = 256 * _resolutions[z];
        int x = (int)((_extent[0] + random.NextDouble() * (_extent[2] - _extent[0]) - _origin[0]) / tile), y = (int)((_origin[1] - _extent[1] - random.NextDouble() * (_extent[3] - _extent[1])) / tile);
        return random.Next(4) switch
        {
            0 or 1 => $"/map/{_maps[random.Next(_maps.Count)]}/{z}/{x}/{y}.png",
            2 => $"/slice/{_sections[random.Next(_sections.Count)]}/{random.Next(_levels)}/{z}/{x}/{y}.png",
            _ => $"/section/{_sections[random.Next(_sections.Count)]}/{random.Next(3)}/{random.Next(3)}.png?line={Uri.EscapeDataString(_lines[random.Next(_lines.Count)])}",
        };
    }
}
