using System.Text.Json;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Web;

/// <summary>What the page must know of base maps, magnetics and outcomes.</summary>
internal static class GroundJson
{
    public static void Write(Utf8JsonWriter json, OpenedResults results, MapTiles maps, BaseMaps bases)
    {
        json.WriteStartArray("bases");
        foreach (BaseMap map in bases.All)
        {
            json.WriteStartObject();
            json.WriteString("name", map.Name);
            json.WriteString("version", bases.Version);
            json.WriteString("kind", map is BaseMap.Outlines ? "outlines" : "pictures");
            if (map is BaseMap.Tiles { Table: { } table })
            {
                ViewJson.Numbers(json, "origin", table.West, table.North);
                ViewJson.Numbers(json, "resolutions", [.. table.Levels.Select(l => l.PixelWidth)]);
                ViewJson.Numbers(json, "tileWidths", [.. table.Levels.Select(l => (double)l.TileWidth)]);
                ViewJson.Numbers(json, "tileHeights", [.. table.Levels.Select(l => (double)l.TileHeight)]);
                ViewJson.Numbers(json, "columns", [.. table.Levels.Select(l => (double)l.Columns)]);
                ViewJson.Numbers(json, "rows", [.. table.Levels.Select(l => (double)l.Rows)]);
            }
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("refused");
        foreach (string sentence in bases.Refused)
            json.WriteStringValue(sentence);
        json.WriteEndArray();
        json.WriteNumber("magnetics", results.Contents.Magnetics.Count);
        json.WriteNumber("magneticsStandOutFrom", MagneticPoint.StandsOutFrom(results.Contents.Magnetics));
        json.WriteStartArray("outcomes");
        foreach (Outcome o in results.Contents.Outcomes)
        {
            json.WriteStartObject();
            ViewJson.Numbers(json, "at", o.Easting, o.Northing);
            json.WriteNumber("radius", o.Radius);
            json.WriteNumber("reached", o.ReachedDepth);
            ViewJson.Numbers(json, "seabed", maps.At("seabed", o.Easting, o.Northing));
            json.WriteString("kind", o.Kind.ToString().ToLowerInvariant());
            json.WriteString("material", o.Material);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    /// <summary>Easting, northing and residual of each reading, one after the other.</summary>
    public static byte[] Magnetics(IReadOnlyList<MagneticPoint> points) =>
        JsonBytes.OfArray(json => { foreach (MagneticPoint m in points) Add(json, m.Reading.Position.Easting, m.Reading.Position.Northing, m.ResidualNanotesla); });

    /// <summary>Each shape an array of eastings and northings, one after the other.</summary>
    public static byte[] Outlines(FeatureTable table) => JsonBytes.OfArray(json =>
    {
        foreach (Shape shape in table.Shapes)
        {
            json.WriteStartArray();
            foreach (var (x, y) in shape.Points)
                Add(json, x, y);
            json.WriteEndArray();
        }
    });

    private static void Add(Utf8JsonWriter json, params ReadOnlySpan<double> values)
    {
        foreach (double value in values)
            json.WriteNumberValue(double.IsFinite(value) ? Math.Round(value, 3) : 0);
    }
}
