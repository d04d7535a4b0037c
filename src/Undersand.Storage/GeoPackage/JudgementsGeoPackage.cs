using Microsoft.Data.Sqlite;
using NodaTime;
using NodaTime.Text;
using Undersand.Positioning;

namespace Undersand.Storage.GeoPackage;

/// <summary>What people decided, in <c>judgements.gpkg</c>: every act, only ever added to, and for any GIS a layer of what holds now.</summary>
/// <remarks>
/// Each act is on disk before <see cref="Judge"/> returns (one transaction, synchronous=FULL, journal DELETE), and the file is closed in between, so that a
/// restart loses nothing and a GIS may look at it. The file is made by the first act. Members may be called from several threads.
/// </remarks>
public sealed class JudgementsGeoPackage
{
    private const string Tables = """
        CREATE TABLE acts (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, target_id TEXT NOT NULL, easting_m REAL NOT NULL, northing_m REAL NOT NULL, verdict TEXT, priority INTEGER, note TEXT NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL, undoes INTEGER);
        CREATE TABLE judgements (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom POINT, target_id TEXT NOT NULL UNIQUE, verdict TEXT, priority INTEGER, note TEXT NOT NULL, who TEXT NOT NULL, when_utc DATETIME NOT NULL);
        """;

    private readonly string _path;
    private readonly ProjectedCrs _crs;
    private readonly Lock _lock = new();
    private readonly List<JudgementAct> _acts;

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
        catch (Exception e) when (e is SqliteException or UnparsableValueException or InvalidCastException or ArgumentException or InvalidOperationException)
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

    /// <summary>What holds now, by target; targets with an empty judgement are left out.</summary>
    public IReadOnlyDictionary<string, Judgement> Current
    {
        get
        {
            lock (_lock)
                return Latest(_acts).Where(j => !j.Value.IsEmpty).ToDictionary();
        }
    }

    /// <summary>The act that <see cref="Undo"/> would undo, or null.</summary>
    public JudgementAct? Undoable
    {
        get
        {
            lock (_lock)
                return LastStanding();
        }
    }

    /// <summary>Adds a judgement, which holds for its target from now on. On disk when this returns.</summary>
    /// <exception cref="SurveyException">The place can't be written to; nothing has changed then.</exception>
    public void Judge(Judgement said)
    {
        lock (_lock)
            Add(said, undoes: null);
    }

    /// <summary>Undoes the newest act that still stands: what held before holds again. Undoing goes back as far as there are acts, also after a restart.</summary>
    /// <param name="who">Who undoes it.</param>
    /// <param name="when">When.</param>
    /// <returns>The act undone, or null where there was none.</returns>
    /// <exception cref="SurveyException">The place can't be written to; nothing has changed then.</exception>
    public JudgementAct? Undo(string who, Instant when)
    {
        lock (_lock)
        {
            if (LastStanding() is not { } last)
                return null;
            HashSet<long> undone = Undone();
            Judgement? before = _acts.LastOrDefault(a => a.Number < last.Number && a.Undoes is null && a.Said.TargetId == last.Said.TargetId && !undone.Contains(a.Number))?.Said;
            Judgement restored = before is null
                ? new Judgement(last.Said.TargetId, last.Said.Place, null, null, "", who, when)
                : before with { Who = before.Who, When = when };
            Add(restored, last.Number);
            return last;
        }
    }

    private JudgementAct? LastStanding()
    {
        HashSet<long> undone = Undone();
        return _acts.LastOrDefault(a => a.Undoes is null && !undone.Contains(a.Number));
    }

    private HashSet<long> Undone() => [.. _acts.Where(a => a.Undoes is not null).Select(a => a.Undoes!.Value)];

    private static Dictionary<string, Judgement> Latest(IEnumerable<JudgementAct> acts)
    {
        var latest = new Dictionary<string, Judgement>(StringComparer.Ordinal);
        foreach (JudgementAct act in acts)
            latest[act.Said.TargetId] = act.Said;
        return latest;
    }

    private void Add(Judgement said, long? undoes) => WholeFile.Guard(_path, () =>
    {
        if (!File.Exists(_path))
            WholeFile.WriteThrough(_path, Make);
        using SqliteConnection file = GeoPackageSql.Connect(_path, SqliteOpenMode.ReadWrite);
        GeoPackageSql.Execute(file, null, "PRAGMA journal_mode=DELETE; PRAGMA synchronous=FULL;");
        using SqliteTransaction transaction = file.BeginTransaction();
        object?[] common = [said.TargetId, said.Verdict?.ToString().ToLowerInvariant(), said.Priority, said.Note, said.Who, GeoPackageSql.Time.Format(said.When)];
        GeoPackageSql.Execute(file, transaction, "INSERT INTO acts (target_id, verdict, priority, note, who, when_utc, easting_m, northing_m, undoes) VALUES ($p0, $p1, $p2, $p3, $p4, $p5, $p6, $p7, $p8)", [.. common, said.Place.Easting, said.Place.Northing, undoes]);
        GeoPackageSql.Execute(file, transaction, "DELETE FROM judgements WHERE target_id = $p0", said.TargetId);
        if (!said.IsEmpty)
            GeoPackageSql.Execute(file, transaction, "INSERT INTO judgements (target_id, verdict, priority, note, who, when_utc, geom) VALUES ($p0, $p1, $p2, $p3, $p4, $p5, $p6)", [.. common, GeometryBlob.Point(_crs.Epsg, said.Place.Easting, said.Place.Northing).ToArray()]);
        GeoPackageSql.Execute(file, transaction, "UPDATE gpkg_contents SET last_change = $p0", GeoPackageSql.Time.Format(said.When));
        transaction.Commit();
        long number = (_acts.Count == 0 ? 0 : _acts[^1].Number) + 1;
        _acts.Add(new JudgementAct(number, said, undoes));
    });

    private void Make(string unfinished)
    {
        File.Delete(unfinished);
        using SqliteConnection file = GeoPackageSql.Connect(unfinished, SqliteOpenMode.ReadWriteCreate);
        GeoPackageSql.Mark(file);
        GeoPackageSql.Begin(file, null, _crs);
        GeoPackageSql.Execute(file, null, Tables);
        GeoPackageSql.Execute(file, null, "INSERT INTO gpkg_contents (table_name, data_type, identifier, description) VALUES ('acts', 'attributes', 'acts', 'Everything that was said about targets, in order; undoing is an act too.')");
        GeoPackageSql.Execute(file, null, "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES ('judgements', 'features', 'judgements', 'What people make of the targets now.', $p0)", _crs.Epsg);
        GeoPackageSql.Execute(file, null, "INSERT INTO gpkg_geometry_columns VALUES ('judgements', 'geom', 'POINT', $p0, 0, 0)", _crs.Epsg);
    }

    private static List<JudgementAct> ReadActs(SqliteConnection file)
    {
        using SqliteCommand command = file.CreateCommand();
        command.CommandText = "SELECT fid, target_id, easting_m, northing_m, verdict, priority, note, who, when_utc, undoes FROM acts ORDER BY fid";
        using SqliteDataReader row = command.ExecuteReader();
        var acts = new List<JudgementAct>();
        while (row.Read())
        {
            Verdict? verdict = row.IsDBNull(4) ? null : Enum.Parse<Verdict>(row.GetString(4), ignoreCase: true);
            var said = new Judgement(row.GetString(1), new GridPoint(row.GetDouble(2), row.GetDouble(3), double.NaN), verdict,
                row.IsDBNull(5) ? null : row.GetInt32(5), row.GetString(6), row.GetString(7), GeoPackageSql.Time.Parse(row.GetString(8)).GetValueOrThrow());
            acts.Add(new JudgementAct(row.GetInt64(0), said, row.IsDBNull(9) ? null : row.GetInt64(9)));
        }
        return acts;
    }
}
