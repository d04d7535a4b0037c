using Microsoft.Data.Sqlite;
using NodaTime;
using NodaTime.Text;
using Undersand.Positioning;

namespace Undersand.Storage.GeoPackage;

/// <summary>What people decided, in <c>judgements.gpkg</c>: every act, only ever added to, and for any GIS a layer of what holds now.</summary>
/// <remarks>
/// Each act is on disk before <see cref="Say"/> returns (one transaction, synchronous=FULL, journal DELETE), and the file is closed in between, so that a
/// restart loses nothing and a GIS may look at it. The file is made by the first act. Members may be called from several threads.
/// </remarks>
public sealed class JudgementsGeoPackage
{
    private const string ActsTable = """
        CREATE TABLE acts (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, target_id TEXT NOT NULL, easting_m REAL NOT NULL, northing_m REAL NOT NULL, verdict TEXT, priority INTEGER, note TEXT NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL, undoes INTEGER, kind TEXT, opinion TEXT, content TEXT);
        """;

    // What the first version's table of acts had not.
    private static readonly string[] s_laterColumns = ["kind", "opinion", "content"];

    private readonly string _path;
    private readonly ProjectedCrs _crs;
    private readonly Lock _lock = new();
    private readonly List<JudgementAct> _acts;
    private JudgedSurvey? _judged;

    private JudgementsGeoPackage(string path, ProjectedCrs crs, List<JudgementAct> acts) => (_path, _crs, _acts) = (path, crs, acts);

    /// <summary>Reads what was decided so far; a missing file is no decision.</summary>
    /// <param name="path"><c>judgements.gpkg</c>.</param>
    /// <param name="crs">The survey's reference system.</param>
    /// <exception cref="SurveyException">The file is there and is not one of ours.</exception>
    public static JudgementsGeoPackage Open(string path, ProjectedCrs crs)
    {
        if (!File.Exists(path))
            return new(path, crs, []);
        try
        {
            using SqliteConnection file = GeoPackageSql.Connect(path, SqliteOpenMode.ReadOnly);
            return new(path, crs, ReadActs(file));
        }
        catch (Exception e) when (e is SqliteException or UnparsableValueException or InvalidCastException or ArgumentException or InvalidOperationException or InvalidDataException or System.Text.Json.JsonException or FormatException or NullReferenceException)
        {
            throw new SurveyException(path, null, $"this is no judgements.gpkg of ours, or it is damaged ({e.Message.TrimEnd('.')})", "put back a copy of it, or move it away to begin anew", e);
        }
    }

    /// <summary>All acts, in the order in which they were done.</summary>
    public IReadOnlyList<JudgementAct> Acts
    {
        get
        {
            lock (_lock)
                return [.. _acts];
        }
    }

    /// <summary>What people make of the survey now.</summary>
    public JudgedSurvey Judged
    {
        get
        {
            lock (_lock)
                return _judged ??= new JudgedSurvey(Standing(_acts).Select(a => a.Said));
        }
    }

    /// <summary>The judgement that holds, by target.</summary>
    public IReadOnlyDictionary<string, Judgement> Current => Judged.Current;

    /// <summary>The act that <see cref="Undo"/> would undo, or null.</summary>
    /// <param name="mayBe">Which acts may be undone; null: all.</param>
    public JudgementAct? Undoable(Func<Saying, bool>? mayBe = null)
    {
        lock (_lock)
            return Standing(_acts).LastOrDefault(a => mayBe?.Invoke(a.Said) ?? true);
    }

    /// <summary>Adds what someone said, which holds from now on. On disk when this returns.</summary>
    /// <exception cref="SurveyException">The place can't be written to; nothing has changed then.</exception>
    public void Say(Saying said)
    {
        lock (_lock)
            Add(said, undoes: null);
    }

    /// <summary>Undoes the newest act that still stands: what held before holds again. Undoing goes back as far as there are acts, also after a restart.</summary>
    /// <param name="who">Who undoes it.</param>
    /// <param name="when">When.</param>
    /// <param name="mayBe">Which acts may be undone; null: all.</param>
    /// <returns>The act undone, or null where there was none.</returns>
    /// <exception cref="SurveyException">The place can't be written to; nothing has changed then.</exception>
    public JudgementAct? Undo(string who, Instant when, Func<Saying, bool>? mayBe = null)
    {
        lock (_lock)
        {
            if (Undoable(mayBe) is not { } last)
                return null;
            Add(new Judgement(last.Said.TargetId, last.Said.Place, null, null, "", who, when), last.Number);
            return last;
        }
    }

    private static IEnumerable<JudgementAct> Standing(IReadOnlyList<JudgementAct> acts)
    {
        HashSet<long> undone = [.. acts.Where(a => a.Undoes is not null).Select(a => a.Undoes!.Value)];
        return acts.Where(a => a.Undoes is null && !undone.Contains(a.Number));
    }

    private void Add(Saying said, long? undoes) => WholeFile.Guard(_path, () =>
    {
        if (!File.Exists(_path))
            WholeFile.WriteThrough(_path, Make);
        using SqliteConnection file = GeoPackageSql.Connect(_path, SqliteOpenMode.ReadWrite);
        GeoPackageSql.Execute(file, null, "PRAGMA journal_mode=DELETE; PRAGMA synchronous=FULL;");
        using SqliteTransaction transaction = file.BeginTransaction();
        foreach (string column in s_laterColumns.Except(Columns(file)))
            GeoPackageSql.Execute(file, transaction, $"ALTER TABLE acts ADD COLUMN {column} TEXT");
        JudgementLayers.Make(file, transaction, _crs);
        var (kind, content) = SayingColumns.Write(said);
        var judgement = said as Judgement;
        GeoPackageSql.Execute(file, transaction, "INSERT INTO acts (target_id, easting_m, northing_m, verdict, priority, note, who, when_utc, undoes, kind, opinion, content) VALUES ($p0, $p1, $p2, $p3, $p4, $p5, $p6, $p7, $p8, $p9, $p10, $p11)",
            said.TargetId, said.Place.Easting, said.Place.Northing, judgement?.Verdict?.ToString().ToLowerInvariant(), judgement?.Priority, judgement?.Note ?? "", said.Who, GeoPackageSql.Time.Format(said.When), undoes,
            kind, judgement?.Opinion.ToString().ToLowerInvariant(), content);
        var act = new JudgementAct((_acts.Count == 0 ? 0 : _acts[^1].Number) + 1, said, undoes);
        JudgementAct[] all = [.. _acts, act];
        var judged = new JudgedSurvey(Standing(all).Select(a => a.Said));
        var places = all.GroupBy(a => a.Said.TargetId).ToDictionary(g => g.Key, g => g.Last().Said.Place);
        JudgementLayers.Fill(file, transaction, _crs.Epsg, judged, id => places.TryGetValue(id, out GridPoint place) ? place : null);
        GeoPackageSql.Execute(file, transaction, "UPDATE gpkg_contents SET last_change = $p0", GeoPackageSql.Time.Format(said.When));
        transaction.Commit();
        _acts.Add(act);
        _judged = judged;
    });

    private void Make(string unfinished)
    {
        File.Delete(unfinished);
        using SqliteConnection file = GeoPackageSql.Connect(unfinished, SqliteOpenMode.ReadWriteCreate);
        GeoPackageSql.Mark(file);
        GeoPackageSql.Begin(file, null, _crs);
        GeoPackageSql.Execute(file, null, ActsTable);
        GeoPackageSql.Execute(file, null, "INSERT INTO gpkg_contents (table_name, data_type, identifier, description) VALUES ('acts', 'attributes', 'acts', 'Everything that was said about targets, in order; undoing is an act too.')");
        JudgementLayers.Make(file, null, _crs);
    }

    private static HashSet<string> Columns(SqliteConnection file) => [.. GeoPackageSql.Rows(file, "SELECT name FROM pragma_table_info('acts')", row => row.GetString(0))];

    private static List<JudgementAct> ReadActs(SqliteConnection file)
    {
        HashSet<string> columns = Columns(file);
        string later = string.Join(", ", s_laterColumns.Select(c => columns.Contains(c) ? c : "NULL"));
        return GeoPackageSql.Rows(file, $"SELECT fid, target_id, easting_m, northing_m, verdict, priority, note, who, when_utc, undoes, {later} FROM acts ORDER BY fid", row =>
        {
            string? Text(int i) => row.IsDBNull(i) ? null : row.GetString(i);
            var judgement = new Judgement(row.GetString(1), new GridPoint(row.GetDouble(2), row.GetDouble(3), double.NaN), Text(4) is { } verdict ? Enum.Parse<Verdict>(verdict, ignoreCase: true) : null,
                row.IsDBNull(5) ? null : row.GetInt32(5), row.GetString(6), row.GetString(7), GeoPackageSql.Time.Parse(row.GetString(8)).GetValueOrThrow())
            {
                Opinion = Text(11) is { } opinion ? Enum.Parse<Opinion>(opinion, ignoreCase: true) : Opinion.First,
            };
            return new JudgementAct(row.GetInt64(0), SayingColumns.Read(Text(10), Text(12), judgement), row.IsDBNull(9) ? null : row.GetInt64(9));
        });
    }
}
