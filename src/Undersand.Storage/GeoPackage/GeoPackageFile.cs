using Microsoft.Data.Sqlite;
using Undersand.Positioning;

namespace Undersand.Storage.GeoPackage;

/// <summary>A GeoPackage being written: one transaction, no journal (the file is renamed only when it is whole), every date the caller's.</summary>
internal sealed class GeoPackageFile : IDisposable
{
    private readonly SqliteConnection _connection;
    private readonly SqliteTransaction? _transaction;
    private readonly ProjectedCrs _crs;
    private readonly string _date;

    /// <param name="path">The file; replaced if it exists.</param>
    /// <param name="crs">Reference system of all layers.</param>
    /// <param name="date">When it was last changed, <c>yyyy-MM-ddTHH:mm:ss.fffZ</c>.</param>
    public GeoPackageFile(string path, ProjectedCrs crs, string date)
    {
        _crs = crs;
        _date = date;
        File.Delete(path);
        _connection = GeoPackageSql.Connect(path, SqliteOpenMode.ReadWriteCreate);
        try
        {
            GeoPackageSql.Mark(_connection);
            Execute("PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF;");
            _transaction = _connection.BeginTransaction();
            GeoPackageSql.Begin(_connection, _transaction, crs);
        }
        catch
        {
            _connection.Dispose();
            throw;
        }
    }

    public int SrsId => _crs.Epsg;

    /// <summary>Adds a layer with one geometry a row and fills it.</summary>
    public void AddFeatures<T>(TableDefinition table, string geometryType, IEnumerable<T> items, Func<T, GeometryBlob?> geometry, Func<T, object?[]> values)
    {
        CreateTable(table, $"\"geom\" {geometryType}");
        Execute($"CREATE VIRTUAL TABLE \"rtree_{table.Name}_geom\" USING rtree(id, minx, maxx, miny, maxy)");
        AddContents(table, "features", SrsId);
        Insert("gpkg_geometry_columns", table.Name, "geom", geometryType, SrsId, 0, 0);
        Insert("gpkg_extensions", table.Name, "geom", "gpkg_rtree_index", "http://www.geopackage.org/spec130/#extension_rtree", "write-only");
        Envelope? extent = WriteRows(table, items, geometry, values);
        if (extent is Envelope e)
            Execute("UPDATE gpkg_contents SET min_x=$p0, min_y=$p1, max_x=$p2, max_y=$p3 WHERE table_name=$p4", e.MinX, e.MinY, e.MaxX, e.MaxY, table.Name);
        Execute(GeoPackageSchema.RTreeTriggers(table.Name));
    }

    /// <summary>Adds a table without geometry and fills it.</summary>
    public void AddAttributes<T>(TableDefinition table, IEnumerable<T> items, Func<T, object?[]> values)
    {
        CreateTable(table, null);
        AddContents(table, "attributes", null);
        using SqliteCommand insert = Prepare(table.Name, table.Columns.Count + 1);
        long id = 0;
        foreach (T item in items)
            Run(insert, [++id, .. values(item)]);
    }

    /// <summary>Adds a document about the whole file.</summary>
    public void AddMetadata(string standard, string mimeType, string document)
    {
        Insert("gpkg_metadata", 1, "dataset", standard, mimeType, document);
        Insert("gpkg_metadata_reference", "geopackage", null, null, null, _date, 1, null);
    }

    /// <summary>Ends the transaction; without it nothing was meant.</summary>
    public void Commit() => _transaction!.Commit();

    /// <inheritdoc/>
    public void Dispose()
    {
        _transaction!.Dispose();
        _connection.Dispose();
    }

    private void CreateTable(TableDefinition table, string? geometryColumn)
    {
        IEnumerable<string> columns = ["\"fid\" INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL", .. geometryColumn is null ? Array.Empty<string>() : [geometryColumn], .. table.Columns.Select(c => $"\"{c.Name}\" {c.Type}")];
        Execute($"CREATE TABLE \"{table.Name}\" ({string.Join(", ", columns)})");
        foreach (Column column in table.Columns)
            Insert("gpkg_data_columns", table.Name, column.Name, null, null, column.Meaning, null, null);
    }

    private void AddContents(TableDefinition table, string type, int? srsId) =>
        Insert("gpkg_contents", table.Name, type, table.Name, table.Description, _date, null, null, null, null, srsId);

    private Envelope? WriteRows<T>(TableDefinition table, IEnumerable<T> items, Func<T, GeometryBlob?> geometry, Func<T, object?[]> values)
    {
        Envelope? extent = null;
        using SqliteCommand insert = Prepare(table.Name, table.Columns.Count + 2), index = Prepare($"rtree_{table.Name}_geom", 5);
        long id = 0;
        foreach (T item in items)
        {
            GeometryBlob? blob = geometry(item);
            Run(insert, [++id, blob?.ToArray(), .. values(item)]);
            if (blob?.Envelope is not Envelope e)
                continue;
            Run(index, [id, e.MinX, e.MaxX, e.MinY, e.MaxY]);
            extent = extent?.With(e) ?? e;
        }

        return extent;
    }

    private SqliteCommand Prepare(string table, int values)
    {
        SqliteCommand command = _connection.CreateCommand();
        command.CommandText = $"INSERT INTO \"{table}\" VALUES ({string.Join(", ", Enumerable.Range(0, values).Select(i => "$p" + i))})";
        for (int i = 0; i < values; i++)
            command.Parameters.Add(new SqliteParameter { ParameterName = "$p" + i });
        command.Transaction = _transaction;
        return command;
    }

    private static void Run(SqliteCommand command, object?[] values)
    {
        for (int i = 0; i < values.Length; i++)
            command.Parameters[i].Value = values[i] ?? DBNull.Value;
        command.ExecuteNonQuery();
    }

    private void Insert(string table, params object?[] values)
    {
        using SqliteCommand command = Prepare(table, values.Length);
        Run(command, values);
    }

    private void Execute(string sql, params object?[] values) => GeoPackageSql.Execute(_connection, _transaction, sql, values);
}
