using Microsoft.Data.Sqlite;
using NodaTime;
using NodaTime.Text;
using Undersand.Positioning;

namespace Undersand.Storage.GeoPackage;

/// <summary>What everyone does who opens a GeoPackage: connect, run a statement, read rows, begin an empty file, write a time.</summary>
internal static class GeoPackageSql
{
    /// <summary>Times as GeoPackage 1.3, table 1, has them: UTC with three decimals.</summary>
    public static readonly InstantPattern Time = InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm:ss.fff'Z'");

    /// <summary>An open connection, not pooled, so that closing it lets go of the file.</summary>
    public static SqliteConnection Connect(string path, SqliteOpenMode mode)
    {
        var file = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Mode = mode, Pooling = false }.ToString());
        try
        {
            file.Open();
            return file;
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    /// <summary>Runs a statement whose parameters are $p0, $p1 and so on.</summary>
    public static void Execute(SqliteConnection file, SqliteTransaction? transaction, string sql, params object?[] values)
    {
        using SqliteCommand command = Command(file, sql, values);
        command.Transaction = transaction;
        command.ExecuteNonQuery();
    }

    /// <summary>The rows of a query whose parameters are $p0, $p1 and so on.</summary>
    public static List<T> Rows<T>(SqliteConnection file, string sql, Func<SqliteDataReader, T> read, params object?[] values)
    {
        using SqliteCommand command = Command(file, sql, values);
        using SqliteDataReader reader = command.ExecuteReader();
        var rows = new List<T>();
        while (reader.Read())
            rows.Add(read(reader));
        return rows;
    }

    /// <summary>The marks by which a GeoPackage is known; outside any transaction.</summary>
    public static void Mark(SqliteConnection file) =>
        Execute(file, null, $"PRAGMA application_id={GeoPackageSchema.ApplicationId}; PRAGMA user_version={GeoPackageSchema.UserVersion};");

    /// <summary>The tables that every GeoPackage has, and its two reference systems.</summary>
    public static void Begin(SqliteConnection file, SqliteTransaction? transaction, ProjectedCrs crs)
    {
        Execute(file, transaction, GeoPackageSchema.Core);
        const string system = "INSERT INTO gpkg_spatial_ref_sys VALUES ($p0, $p1, 'EPSG', $p1, $p2, $p3)";
        Execute(file, transaction, system, "WGS 84 geodetic", 4326, GeoPackageSchema.Wgs84, "longitude and latitude, WGS 84");
        Execute(file, transaction, system, crs.Name, crs.Epsg, crs.Wkt, "the survey's reference system");
    }

    private static SqliteCommand Command(SqliteConnection file, string sql, object?[] values)
    {
        SqliteCommand command = file.CreateCommand();
        command.CommandText = sql;
        for (int i = 0; i < values.Length; i++)
            command.Parameters.AddWithValue("$p" + i, values[i] ?? DBNull.Value);
        return command;
    }
}
