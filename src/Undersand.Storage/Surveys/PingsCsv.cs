using NodaTime;

namespace Undersand.Storage.Surveys;

/// <summary>pings.csv: the start of each transmission, with fractions of a second.</summary>
internal sealed class PingsCsv
{
    public const string FileName = "pings.csv";
    private readonly Dictionary<string, List<(int Ping, Instant Time, int Line)>> _byFile = [];

    public PingsCsv(string folder, List<Caution> cautions)
    {
        using var csv = new CsvReader(Path.Combine(folder, FileName), FileName, ["file", "ping", "time_utc"], [], cautions);
        while (csv.Read())
        {
            string file = csv.Text(0);
            if (!_byFile.TryGetValue(file, out var rows))
                _byFile[file] = rows = [];
            rows.Add((csv.Integer(1), csv.Time(2), csv.Line));
        }
        foreach (var rows in _byFile.Values)
            rows.Sort((a, b) => a.Ping != b.Ping ? a.Ping.CompareTo(b.Ping) : a.Line.CompareTo(b.Line));
    }

    /// <summary>The recordings it speaks of.</summary>
    public IEnumerable<string> Files => _byFile.Keys;

    /// <summary>Rows for a recording.</summary>
    public int CountOf(string file) => _byFile.TryGetValue(file, out var rows) ? rows.Count : 0;

    /// <summary>A ping's time and the line it stands in; null where it isn't listed.</summary>
    /// <param name="file">The recording.</param>
    /// <param name="ping">Its ping number.</param>
    /// <param name="occurrence">0, or how often the number was met before in the recording.</param>
    public (Instant Time, int Line)? Find(string file, int ping, int occurrence)
    {
        if (!_byFile.TryGetValue(file, out var rows))
            return null;
        int low = 0, high = rows.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (rows[middle].Ping < ping) low = middle + 1; else high = middle;
        }
        low += occurrence;
        return low < rows.Count && rows[low].Ping == ping ? (rows[low].Time, rows[low].Line) : null;
    }
}
