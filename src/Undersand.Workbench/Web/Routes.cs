using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Undersand.Runs.Reporting;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;

using Answer = Microsoft.AspNetCore.Http.Results;

namespace Undersand.Workbench.Web;

/// <summary>What answers where.</summary>
internal static class Routes
{
    public static void Map(WebApplication app)
    {
        app.MapRazorComponents<Components.App>().AddInteractiveServerRenderMode(o => o.ContentSecurityFrameAncestorsPolicy = null);
        // Where its own code asks for it.
        app.MapGet("/_content/Microsoft.AspNetCore.Components.QuickGrid/QuickGrid.razor.js", (HttpContext context) => EmbeddedFiles.Get("assets/QuickGrid.razor.js", context));
        app.MapGet("/assets/{**path}", (string path, HttpContext context) => EmbeddedFiles.Get("assets/" + path, context));
        app.MapGet("/client/{**path}", (string path, HttpContext context) => EmbeddedFiles.Get("client/" + path, context));
        app.MapGet("/alive", (ResultsShelf shelf) => Answer.Text(shelf.Version));
        app.MapGet("/api/view", (OpenedResults results, MapTiles maps, SectionTiles sections, JudgementDesk desk, BaseMaps bases, HttpContext context) => Answer.Bytes(ViewJson.Of(results, maps, sections, desk, bases, SecondJudge.RoundOf(context, desk)), "application/json"));
        GroundRoutes.Map(app);
        app.MapGet("/map/{quantity}/{z:int}/{x:int}/{y:int}.png", (string quantity, int z, int x, int y, MapTiles maps, Painters painters, HttpContext context) => PictureAsync(painters, () => maps.Picture(quantity, z, x, y), context));
        app.MapGet("/slice/{quantity}/{level:int}/{z:int}/{x:int}/{y:int}.png", (string quantity, int level, int z, int x, int y, SectionTiles sections, Painters painters, HttpContext context) => PictureAsync(painters, () => sections.Slice(quantity, level, z, x, y), context));
        app.MapGet("/legend/{quantity}.png", Legend);
        app.MapGet("/section/{quantity}/{level:int}/{x:int}.png", SectionAsync);
        app.MapGet("/brick/{quantity}/{level:int}/{x:int}/{y:int}", BrickAsync);
        app.MapGet("/value", Value);
        app.MapGet("/files/{name}", File);
        // Cloud-optimised: readers fetch the parts they need.
        app.MapGet("/files/maps/{name}.tif", (string name, OpenedResults results) => results.Maps.ContainsKey(name) ? Answer.File(Path.Combine(results.Folder, "maps", name + ".tif"), "image/tiff; application=geotiff; profile=cloud-optimized", enableRangeProcessing: true) : Answer.NotFound());
        Features.Map(app);
        SecondJudge.Map(app);
        Tellings.Map(app);
        EchoRoutes.Map(app);
        SeabedRoutes.Map(app);
    }

    private static async Task<IResult> PictureAsync(Painters painters, Func<byte[]?> paint, HttpContext context) => Picture(await painters.PaintAsync(paint, context.RequestAborted), context);

    public static IResult Picture(byte[]? png, HttpContext context, string type = "image/png")
    {
        if (png is null)
            return Answer.NotFound();
        Keep(context);
        return Answer.Bytes(png, type);
    }

    private static void Keep(HttpContext context) => context.Response.Headers.CacheControl = context.Request.Query.ContainsKey("v") ? "private, max-age=31536000, immutable" : "no-cache";

    // A column of 256 colours; the deepest or least at the foot, as the page draws its numbers.
    private static IResult Legend(string quantity, MapTiles maps, SectionTiles sections, HttpContext context)
    {
        if (maps.Quantities.Concat(sections.Quantities).Append(EchoTiles.Strength).FirstOrDefault(q => q.Name == quantity) is not { } q)
            return Answer.NotFound();
        byte[] indices = [.. Enumerable.Range(0, 256).Select(i => q.IndexOf(q.Low + (q.High - q.Low) * (q.Downwards ? i : 255 - i) / 255))];
        return Picture(Png.Encode(1, 256, indices, q.Map), context);
    }

    private static async Task<IResult> SectionAsync(string quantity, int level, int x, string? line, string? path, string? datum, SectionTiles sections, Painters painters, HttpContext context)
    {
        SectionPath? way = line is not null ? sections.Line(line) : SectionPath.Parse(path);
        return way is null ? Answer.NotFound() : await PictureAsync(painters, () => sections.Picture(line ?? path!, way, quantity, datum == "depth", level, x), context);
    }

    // Nothing of it where nobody looked.
    private static async Task<IResult> BrickAsync(string quantity, int level, int x, int y, VolumeBricks bricks, Painters painters, HttpContext context)
    {
        if (await painters.PaintAsync(() => bricks.Brick(quantity, level, x, y), context.RequestAborted) is not { } brick)
            return Answer.NotFound();
        Keep(context);
        return brick.Length == 0 ? Answer.NoContent() : Answer.Bytes(brick, "application/octet-stream");
    }

    // What the maps say at a place, in words' order: for the line under the map.
    private static IResult Value(double e, double n, MapTiles maps, JudgementDesk desk, HttpContext context)
    {
        bool blind = SecondJudge.RoundOf(context, desk) is not null;
        string Number(double v) => double.IsNaN(v) ? "null" : v.ToString("R", CultureInfo.InvariantCulture);
        return Answer.Text($"{{\"seabed\":{Number(maps.At("seabed", e, n))},\"probability\":{Number(blind ? double.NaN : maps.At("probability", e, n))},\"burial\":{Number(blind ? double.NaN : maps.At("burial_of_greatest", e, n))},\"seen\":{Number(maps.At("could_have_seen", e, n))}}}", "application/json");
    }

    private static readonly Dictionary<string, string> _files = new(StringComparer.Ordinal)
    {
        ["report.html"] = "text/html; charset=utf-8",
        ["report.pdf"] = "application/pdf",
        ["targets.csv"] = "text/csv; charset=utf-8",
        ["targets.geojson"] = "application/geo+json",
        ["survey.gpkg"] = "application/geopackage+sqlite3",
        ["judgements.gpkg"] = "application/geopackage+sqlite3",
        ["run.json"] = "application/json",
        ["SHA256SUMS"] = "text/plain; charset=utf-8",
    };

    private static IResult File(string name, OpenedResults results)
    {
        string path = Path.Combine(results.Folder, name);
        return _files.TryGetValue(name, out string? type) && System.IO.File.Exists(path) ? Answer.File(path, type, enableRangeProcessing: true) : Answer.NotFound();
    }
}
