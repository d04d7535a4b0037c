using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Undersand.Storage.GeoPackage;

/// <summary>Anybody's GeoPackage as a base map: its raster tiles as they are, and the outlines of its features. Read only; members may be called from several threads.</summary>
public sealed class BasePackage
{
    /// <summary>Points of outlines that are read of one layer; a layer with more is refused.</summary>
    public const int MostPoints = 300_000;

    private const int MostTileBytes = 1 << 24, MostLevels = 40;
    private readonly string _path;

    private BasePackage(string path, IReadOnlyList<TileTable> tiles, IReadOnlyList<FeatureTable> features) => (_path, Tiles, Features) = (path, tiles, features);

    /// <summary>Its layers of tiles.</summary>
    public IReadOnlyList<TileTable> Tiles { get; }

    /// <summary>Its layers of features.</summary>
    public IReadOnlyList<FeatureTable> Features { get; }

    /// <summary>Opens a package whose layers must lie in the given reference system.</summary>
    /// <exception cref="SurveyException">It can't be used; the sentence says the mend.</exception>
    public static BasePackage Open(string path, int epsg)
    {
        try
        {
            using SqliteConnection file = GeoPackageSql.Connect(path, SqliteOpenMode.ReadOnly);
            var tiles = new List<TileTable>();
            var features = new List<FeatureTable>();
            foreach (var (table, kind, organization, code) in GeoPackageSql.Rows(file,
                "SELECT c.table_name, c.data_type, s.organization, s.organization_coordsys_id FROM gpkg_contents c LEFT JOIN gpkg_spatial_ref_sys s ON s.srs_id = c.srs_id WHERE c.data_type IN ('tiles', 'features') ORDER BY c.table_name",
                r => (r.GetString(0), r.GetString(1), r[2] as string ?? "", r[3] as long? ?? 0)))
            {
                if (code != epsg || !organization.Equals("EPSG", StringComparison.OrdinalIgnoreCase))
                    throw Elsewhere(path, table, kind, organization.Length > 0 && code > 0 ? $"{organization}:{code}" : "no reference system that it names", epsg);
                if (kind == "tiles")
                    tiles.Add(ReadTileTable(file, path, table));
                else
                    features.Add(ReadFeatures(file, path, table));
            }
            if (tiles.Count + features.Count == 0)
                throw new InvalidDataException("it has no layer of tiles or features");
            return new BasePackage(path, tiles, features);
        }
        catch (Exception e) when (e is SqliteException or InvalidDataException or InvalidCastException or InvalidOperationException or ArgumentException or OverflowException or FormatException)
        {
            throw new SurveyException(path, null, $"this GeoPackage can't be read ({e.Message.TrimEnd('.')})", "copy it again from where it came, or leave it out", e);
        }
    }

    /// <summary>A tile's bytes and their type, PNG, JPEG or WebP; null where there is none.</summary>
    /// <param name="table">Which layer.</param>
    /// <param name="level">Index in its levels.</param>
    /// <param name="x">Eastwards, from 0.</param>
    /// <param name="y">Southwards, from 0.</param>
    public (byte[] Bytes, string Type)? Tile(TileTable table, int level, int x, int y)
    {
        if (level < 0 || level >= table.Levels.Count)
            return null;
        using SqliteConnection file = GeoPackageSql.Connect(_path, SqliteOpenMode.ReadOnly);
        try
        {
            byte[]? bytes = GeoPackageSql.Rows(file, $"SELECT CASE WHEN length(tile_data) <= {MostTileBytes} THEN tile_data END FROM {Quoted(table.Name)} WHERE zoom_level = $p0 AND tile_column = $p1 AND tile_row = $p2", r => r[0] as byte[], table.Levels[level].Zoom, x, y).FirstOrDefault();
            return bytes is not null && PictureFile.Kind(bytes) is { } kind ? (bytes, kind.MediaType) : null;
        }
        catch (SqliteException)
        {
            return null;
        }
    }

    private static TileTable ReadTileTable(SqliteConnection file, string path, string table)
    {
        (double West, double North) = GeoPackageSql.Rows(file, "SELECT min_x, max_y FROM gpkg_tile_matrix_set WHERE table_name = $p0", r => (r.GetDouble(0), r.GetDouble(1)), table).FirstOrDefault((double.NaN, double.NaN));
        // Levels without a tile, which the standard allows, would be holes from afar.
        TileLevel[] levels = [.. GeoPackageSql.Rows(file, $"SELECT zoom_level, matrix_width, matrix_height, tile_width, tile_height, pixel_x_size, pixel_y_size FROM gpkg_tile_matrix m WHERE table_name = $p0 AND EXISTS (SELECT 1 FROM {Quoted(table)} t WHERE t.zoom_level = m.zoom_level) ORDER BY pixel_x_size DESC",
            r => new TileLevel(r.GetInt32(0), r.GetInt32(1), r.GetInt32(2), r.GetInt32(3), r.GetInt32(4), r.GetDouble(5), r.GetDouble(6)), table)];
        if (!double.IsFinite(West + North) || levels.Length is 0 or > MostLevels || levels.Any(l => l.Columns < 1 || l.Rows < 1 || l.TileWidth is < 1 or > 4096 || l.TileHeight is < 1 or > 4096 || !(l.PixelWidth > 1e-4 && l.PixelHeight > 1e-4 && l.PixelWidth < 1e6)))
            throw new InvalidDataException($"the tile matrix of “{table}” is damaged");
        if (levels.Any(l => Math.Abs(l.PixelWidth / l.PixelHeight - 1) > 1e-3))
            throw new SurveyException(path, table, "its pixels are not square", "write it anew with “gdalwarp -tr 0.5 0.5” and the same size both ways");
        return new TileTable(table, West, North, levels);
    }

    private static FeatureTable ReadFeatures(SqliteConnection file, string path, string table)
    {
        string column = GeoPackageSql.Rows(file, "SELECT column_name FROM gpkg_geometry_columns WHERE table_name = $p0", r => r.GetString(0), table).FirstOrDefault() ?? throw new InvalidDataException($"“{table}” has no geometry");
        var shapes = new List<Shape>();
        int points = 0;
        using SqliteCommand command = file.CreateCommand();
        command.CommandText = $"SELECT {Quoted(column)} FROM {Quoted(table)} WHERE {Quoted(column)} IS NOT NULL";
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
            foreach (Shape shape in GeometryReader.Shapes(reader[0] as byte[] ?? throw new InvalidDataException($"a geometry of “{table}” is no blob")))
            {
                shapes.Add(shape);
                if ((points += shape.Points.Count) > MostPoints)
                    throw new SurveyException(path, table, $"it has more than {MostPoints.ToString("N0", CultureInfo.InvariantCulture).Replace(',', ' ')} points, too many to draw", "take what lies around the survey, with “ogr2ogr -clipsrc”, and simplify it, with “-simplify 1”");
            }
        return new FeatureTable(table, shapes);
    }

    private static SurveyException Elsewhere(string path, string table, string kind, string found, int epsg)
    {
        string name = Path.GetFileName(path);
        return new SurveyException(path, table, $"it is in {found}, and the survey is in EPSG:{epsg}", kind == "tiles" ? $"warp it with “gdalwarp -t_srs EPSG:{epsg} {name} base.tif”" : $"convert it with “ogr2ogr -t_srs EPSG:{epsg} base.gpkg {name}”");
    }

    private static string Quoted(string name) => $"\"{name.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}

/// <summary>A layer of tiles.</summary>
/// <param name="Name">Its table.</param>
/// <param name="West">Easting of the matrix's left edge.</param>
/// <param name="North">Northing of its upper edge.</param>
/// <param name="Levels">Coarsest first.</param>
public sealed record TileTable(string Name, double West, double North, IReadOnlyList<TileLevel> Levels);

/// <summary>A level of a tile matrix. GeoPackage 1.3, clause 2.2.7.</summary>
/// <param name="Zoom">Its number in the file.</param>
/// <param name="Columns">Tiles eastwards.</param>
/// <param name="Rows">Tiles southwards.</param>
/// <param name="TileWidth">Pixels.</param>
/// <param name="TileHeight">Pixels.</param>
/// <param name="PixelWidth">Metres.</param>
/// <param name="PixelHeight">Metres.</param>
public sealed record TileLevel(int Zoom, int Columns, int Rows, int TileWidth, int TileHeight, double PixelWidth, double PixelHeight);

/// <summary>A layer of features, as what is drawn of it.</summary>
/// <param name="Name">Its table.</param>
/// <param name="Shapes">Points, lines and rings.</param>
public sealed record FeatureTable(string Name, IReadOnlyList<Shape> Shapes);
