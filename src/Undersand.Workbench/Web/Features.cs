using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Results;
using Answer = Microsoft.AspNetCore.Http.Results;

namespace Undersand.Workbench.Web;

/// <summary>Targets, lines and coverage, magnetics and outcomes where given, as OGC API Features (OGC 17-069r4, core and GeoJSON), for QGIS and its like.</summary>
/// <remarks>
/// Longitude and latitude on the survey's datum, as in targets.geojson. Paths are the canonical ones, since clients build them by themselves; every page of
/// items says how many match and where the next is.
/// </remarks>
internal static class Features
{
    private const int MostItems = 1000, UsualItems = 100;
    private const string GeoJson = "application/geo+json", Crs84 = "http://www.opengis.net/def/crs/OGC/1.3/CRS84";

    private static readonly (string Id, string Title, string Words)[] _collections =
    [
        ("targets", "Targets", "Places where a compact body probably lies; probabilities are not calibrated yet"),
        ("lines", "Lines", "Tracks of the recordings, and how good they are"),
        ("coverage", "Coverage", "Where anything was imaged, by the burial down to which the reference sphere would have stood out"),
        ("magnetics", "Magnetics", "Readings of the magnetometer, and by how much each stands out of the running median along its line"),
        ("outcomes", "Outcomes", "What was found where someone looked; an empty hole says nothing about what lies below it"),
    ];

    public static void Map(WebApplication app)
    {
        RouteGroupBuilder ogc = app.MapGroup("/ogc");
        ogc.MapGet("", (HttpContext c, OpenedResults r) => Json(json => Landing(json, Root(c), r)));
        ogc.MapGet("/conformance", () => Json(json =>
        {
            json.WriteStartArray("conformsTo");
            foreach (string part in new[] { "core", "geojson", "oas30" })
                json.WriteStringValue($"http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/{part}");
            json.WriteEndArray();
        }));
        ogc.MapGet("/api", (HttpContext c, OpenedResults r) => Json(json => Api(json, Root(c), r), "application/vnd.oai.openapi+json;version=3.0"));
        ogc.MapGet("/collections", (HttpContext c, OpenedResults r) => Json(json =>
        {
            Links(json, ("self", Root(c) + "/collections", "application/json", "this document"));
            json.WriteStartArray("collections");
            foreach (var collection in Given(r))
            {
                json.WriteStartObject();
                Collection(json, Root(c), collection, r);
                json.WriteEndObject();
            }
            json.WriteEndArray();
        }));
        ogc.MapGet("/collections/{id}", (string id, HttpContext c, OpenedResults r) => Known(id, r) is { } known ? Json(json => Collection(json, Root(c), known, r)) : Missing($"There is no collection “{id}”."));
        ogc.MapGet("/collections/{id}/items", (string id, HttpContext c, OpenedResults r, JudgementDesk desk) => Items(id, c, r, desk));
        ogc.MapGet("/collections/{id}/items/{item}", (string id, string item, OpenedResults r, JudgementDesk desk) =>
            Known(id, r) is not null && All(id, r, desk).FirstOrDefault(f => f.Id == item) is { } found ? Json(found.Write, GeoJson) : Missing($"There is no “{item}” in “{id}”."));
    }

    private static IResult Items(string id, HttpContext context, OpenedResults results, JudgementDesk desk)
    {
        if (Known(id, results) is null)
            return Missing($"There is no collection “{id}”.");
        IQueryCollection query = context.Request.Query;
        if (!TryWhole(query["limit"], UsualItems, 1, out int limit) || !TryWhole(query["offset"], 0, 0, out int offset))
            return Wrong("limit is a whole number from 1, offset one from 0.");
        limit = Math.Min(limit, MostItems);
        double[]? box = null;
        if (query["bbox"] is [{ Length: > 0 } words] && (box = Box(words)) is null)
            return Wrong("bbox is four numbers: west, south, east, north.");
        if (query.Keys.FirstOrDefault(k => k is not ("limit" or "offset" or "bbox" or "f" or "datetime")) is { } unknown)
            return Wrong($"This server knows no parameter “{unknown}”.");
        Feature[] all = [.. All(id, results, desk).Where(f => box is null || f.Meets(box))];
        Feature[] page = [.. all.Skip(offset).Take(limit)];
        string self = $"{Root(context)}/collections/{id}/items", filter = box is null ? "" : $"&bbox={query["bbox"]}";
        return Json(json =>
        {
            json.WriteString("type", "FeatureCollection");
            json.WriteNumber("numberMatched", all.Length);
            json.WriteNumber("numberReturned", page.Length);
            var links = new List<(string, string, string, string)> { ("self", $"{self}?limit={limit}&offset={offset}{filter}", GeoJson, "this page"), ("collection", $"{Root(context)}/collections/{id}", "application/json", "the collection") };
            if (offset + page.Length < all.Length)
                links.Add(("next", $"{self}?limit={limit}&offset={offset + limit}{filter}", GeoJson, "the next page"));
            Links(json, [.. links]);
            json.WriteStartArray("features");
            foreach (Feature feature in page)
            {
                json.WriteStartObject();
                feature.Write(json);
                json.WriteEndObject();
            }
            json.WriteEndArray();
        }, GeoJson);
    }

    private static IEnumerable<Feature> All(string id, OpenedResults results, JudgementDesk desk) => id switch
    {
        "targets" => results.Targets.Select((t, i) => Feature.Of(t, i + 1, desk.Of(t.Id), results.Crs)),
        "lines" => results.Contents.Lines.Where(l => l.Pings.Count > 1).Select(l => Feature.Of(l, results.Crs)),
        "magnetics" => results.Contents.Magnetics.Select((m, i) => Feature.Of(m, i + 1, results.Crs)),
        "outcomes" => results.Contents.Outcomes.Select((o, i) => Feature.Of(o, i + 1, results.Crs)),
        _ => results.Contents.Coverage.Select((a, i) => Feature.Of(a, i + 1, results.Crs)),
    };

    private static void Landing(Utf8JsonWriter json, string root, OpenedResults results)
    {
        json.WriteString("title", results.Name);
        json.WriteString("description", "Targets, lines and coverage of a sub-bottom survey. Positions are sensitive: share them only with those entitled to them.");
        Links(json, ("self", root, "application/json", "this document"), ("service-desc", root + "/api", "application/vnd.oai.openapi+json;version=3.0", "the API"),
            ("conformance", root + "/conformance", "application/json", "what it conforms to"), ("data", root + "/collections", "application/json", "the collections"));
    }

    private static void Collection(Utf8JsonWriter json, string root, (string Id, string Title, string Words) collection, OpenedResults results)
    {
        json.WriteString("id", collection.Id);
        json.WriteString("title", collection.Title);
        json.WriteString("description", collection.Words);
        json.WriteString("itemType", "feature");
        json.WriteStartObject("extent");
        json.WriteStartObject("spatial");
        json.WriteStartArray("bbox");
        json.WriteStartArray();
        foreach (double edge in Extent(results))
            json.WriteNumberValue(Math.Round(edge, 7));
        json.WriteEndArray();
        json.WriteEndArray();
        json.WriteString("crs", Crs84);
        json.WriteEndObject();
        json.WriteEndObject();
        json.WriteStartArray("crs");
        json.WriteStringValue(Crs84);
        json.WriteEndArray();
        string self = $"{root}/collections/{collection.Id}";
        Links(json, ("self", self, "application/json", collection.Title), ("items", self + "/items", GeoJson, "the features"));
    }

    private static double[] Extent(OpenedResults results)
    {
        var map = results.Maps["probability"];
        GeoPoint[] corners = [.. new[] { (map.West, map.South), (map.East, map.South), (map.East, map.North), (map.West, map.North) }.Select(c => results.Crs.ToGeo(new GridPoint(c.Item1, c.Item2, 0)))];
        return [corners.Min(c => c.Longitude), corners.Min(c => c.Latitude), corners.Max(c => c.Longitude), corners.Max(c => c.Latitude)];
    }

    private static void Api(Utf8JsonWriter json, string root, OpenedResults results)
    {
        json.WriteString("openapi", "3.0.3");
        json.WriteStartObject("info");
        json.WriteString("title", "Undersand features");
        json.WriteString("version", "1.0");
        json.WriteEndObject();
        json.WriteStartArray("servers");
        json.WriteStartObject();
        json.WriteString("url", root);
        json.WriteEndObject();
        json.WriteEndArray();
        json.WriteStartObject("paths");
        foreach (string path in new[] { "/", "/conformance", "/collections" }.Concat(Given(results).SelectMany(c => new[] { $"/collections/{c.Id}", $"/collections/{c.Id}/items" })))
        {
            json.WriteStartObject(path);
            json.WriteStartObject("get");
            json.WriteStartObject("responses");
            json.WriteStartObject("200");
            json.WriteString("description", "as OGC API Features has it");
            json.WriteEndObject();
            json.WriteEndObject();
            json.WriteEndObject();
            json.WriteEndObject();
        }
        json.WriteEndObject();
    }

    // Magnetics and outcomes are a collection only where the survey gave them.
    private static IEnumerable<(string Id, string Title, string Words)> Given(OpenedResults results) =>
        _collections.Where(c => c.Id switch { "magnetics" => results.Contents.Magnetics.Count > 0, "outcomes" => results.Contents.Outcomes.Count > 0, _ => true });

    private static (string Id, string Title, string Words)? Known(string id, OpenedResults results) => Given(results).Where(c => c.Id == id).Select(c => ((string, string, string)?)c).FirstOrDefault();

    private static string Root(HttpContext context) => $"{context.Request.Scheme}://{context.Request.Host}/ogc";

    private static void Links(Utf8JsonWriter json, params (string Rel, string Href, string Type, string Title)[] links)
    {
        json.WriteStartArray("links");
        foreach (var (rel, href, type, title) in links)
        {
            json.WriteStartObject();
            json.WriteString("rel", rel);
            json.WriteString("href", href);
            json.WriteString("type", type);
            json.WriteString("title", title);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static bool TryWhole(Microsoft.Extensions.Primitives.StringValues words, int otherwise, int least, out int value)
    {
        value = otherwise;
        return words.Count == 0 || (words.Count == 1 && int.TryParse(words[0], NumberStyles.None, CultureInfo.InvariantCulture, out value) && value >= least);
    }

    private static double[]? Box(string words)
    {
        string[] parts = words.Split(',');
        double[] numbers = [.. parts.Select(p => double.TryParse(p, NumberStyles.Float, CultureInfo.InvariantCulture, out double n) && double.IsFinite(n) ? n : double.NaN)];
        if (numbers.Any(double.IsNaN) || numbers.Length is not (4 or 6))
            return null;
        return numbers.Length == 4 ? numbers : [numbers[0], numbers[1], numbers[3], numbers[4]];
    }

    private static IResult Json(Action<Utf8JsonWriter> content, string type = "application/json") => Answer.Bytes(JsonBytes.OfObject(content), type);

    private static IResult Missing(string sentence) => Answer.Text(Fault(404, sentence), "application/json", Encoding.UTF8, 404);

    private static IResult Wrong(string sentence) => Answer.Text(Fault(400, sentence), "application/json", Encoding.UTF8, 400);

    private static string Fault(int code, string sentence) => JsonSerializer.Serialize(new Dictionary<string, string> { ["code"] = code.ToString(CultureInfo.InvariantCulture), ["description"] = sentence });
}
