using System.Globalization;

namespace Undersand.Storage.Surveys;

/// <summary>The stretches of seabed that people laid by hand, in a table beside the results: <c>seabed-by-hand.csv</c> (RFC 4180).</summary>
/// <remarks>It lies with the results and not with the survey, which stays as it was recorded; <c>process</c> reads it and never writes to it. The last row that covers a ping holds; taking back removes rows.</remarks>
public static class SeabedByHand
{
    /// <summary>The file's name.</summary>
    public const string FileName = "seabed-by-hand.csv";

    private static readonly string[] s_columns = ["file", "first_ping", "first_depth_m", "last_ping", "last_depth_m", "who", "when_utc"];

    /// <summary>Reads the table; a missing file is no stretch.</summary>
    /// <param name="folder">The results' folder.</param>
    /// <exception cref="SurveyException">A row is wrong.</exception>
    public static IReadOnlyList<SeabedStretch> Read(string folder)
    {
        string path = Path.Combine(folder, FileName);
        if (!File.Exists(path))
            return [];
        using var csv = new CsvReader(path, path, s_columns, [], []);
        var stretches = new List<SeabedStretch>();
        while (csv.Read())
        {
            var stretch = new SeabedStretch(csv.Text(0), csv.Integer(1), csv.Number(2), csv.Integer(3), csv.Number(4), csv.Text(5), csv.Time(6));
            if (stretch.LastPing < stretch.FirstPing)
                throw csv.Wrong(3, $"ping {stretch.LastPing} comes before ping {stretch.FirstPing}", "write the earlier ping first");
            stretches.Add(stretch);
        }
        return stretches;
    }

    /// <summary>Adds stretches; on disk when this returns.</summary>
    /// <exception cref="SurveyException">The table is wrong or can't be written to; nothing has changed then.</exception>
    public static void Add(string folder, params IReadOnlyList<SeabedStretch> stretches) => Write(folder, [.. Read(folder), .. stretches]);

    /// <summary>Takes stretches away: the seabed there is what tracking finds again, or what was laid before.</summary>
    /// <exception cref="SurveyException">As for <see cref="Add"/>.</exception>
    public static void Forget(string folder, Func<SeabedStretch, bool> which) => Write(folder, [.. Read(folder).Where(s => !which(s))]);

    private static void Write(string folder, IReadOnlyList<SeabedStretch> stretches) => WholeFile.WriteText(Path.Combine(folder, FileName),
        string.Concat(stretches.Select(s => string.Join(',', new[] { s.Line, Whole(s.FirstPing), Depth(s.FirstDepth), Whole(s.LastPing), Depth(s.LastDepth), CsvText.Harmless(s.Who), UtcTime.Format(s.When) }.Select(CsvText.Quoted)) + "\r\n").Prepend(string.Join(',', s_columns) + "\r\n")));

    private static string Whole(int value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Depth(double metres) => metres.ToString("0.000", CultureInfo.InvariantCulture);
}
