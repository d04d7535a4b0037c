namespace Undersand.Storage.GeoPackage;

/// <summary>A table of a GeoPackage.</summary>
/// <param name="Name">Its name, letters and underscores.</param>
/// <param name="Description">What is in it, one sentence.</param>
/// <param name="Columns">Its columns, after the key and the geometry.</param>
internal sealed record TableDefinition(string Name, string Description, IReadOnlyList<Column> Columns);

/// <summary>A column.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Type">A type of GeoPackage 1.3, table 1.</param>
/// <param name="Meaning">What it means, with its unit.</param>
internal sealed record Column(string Name, string Type, string Meaning)
{
    public static Column Text(string name, string meaning) => new(name, "TEXT", meaning);

    public static Column Real(string name, string meaning) => new(name, "REAL", meaning);

    public static Column Integer(string name, string meaning) => new(name, "INTEGER", meaning);
}
