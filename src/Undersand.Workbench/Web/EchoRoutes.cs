using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Undersand.Runs.Processing;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;

using Answer = Microsoft.AspNetCore.Http.Results;

namespace Undersand.Workbench.Web;

/// <summary>Recorded echoes: what a line has, and its pictures.</summary>
internal static class EchoRoutes
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/echoes", AboutAsync);
        app.MapGet("/echoes/depth", DepthAsync);
        app.MapGet("/echoes/{receiver:int}/{level:int}/{x:int}.png", async (int receiver, int level, int x, string line, int gain, EchoTiles echoes, Painters painters, HttpContext context) =>
            Routes.Picture(await painters.PaintAsync(() => echoes.Picture(line, receiver, level, x, gain), context.RequestAborted), context));
    }

    // What a line has at a receiver; or one sentence, where its recordings are gone.
    private static async Task<IResult> AboutAsync(string line, int receiver, EchoTiles echoes, RecordedSurvey recorded, OpenedResults results, Painters painters, HttpContext context)
    {
        if (results.Contents.Lines.All(l => l.Name != line))
            return Answer.NotFound();
        byte[]? about = await painters.PaintAsync(() => recorded.Folder is null ? JsonBytes.OfObject(j => j.WriteString("why", recorded.Why)) : echoes.Line(line) is { } found && (uint)receiver < (uint)found.Receivers.Count ? JsonBytes.OfObject(j => Write(j, found, receiver)) : null, context.RequestAborted);
        return about is null ? Answer.NotFound() : Answer.Bytes(about, "application/json");
    }

    // How deep a level seabed lies that answers at a time; null where none does.
    private static async Task<IResult> DepthAsync(string line, int receiver, int ping, double time, EchoTiles echoes, Painters painters, HttpContext context)
    {
        double? depth = await painters.PaintAsync<double?>(() => echoes.Line(line) is { } found && (uint)receiver < (uint)found.Receivers.Count && (uint)ping < (uint)found.PingCount ? found.DepthAt(ping, receiver, time) : null, context.RequestAborted);
        return depth is not { } d ? Answer.NotFound() : Answer.Text(double.IsFinite(d) ? d.ToString("R", CultureInfo.InvariantCulture) : "null", "application/json");
    }

    private static void Write(Utf8JsonWriter json, LineEchoes line, int receiver)
    {
        json.WriteNumber("pings", line.PingCount);
        ViewJson.Numbers(json, "numbers", [.. Enumerable.Range(0, line.PingCount).Select(i => (double)line.NumberOf(i))]);
        json.WriteNumber("rows", line.Rows);
        json.WriteNumber("first", line.FirstTime);
        json.WriteNumber("interval", line.Interval);
        ViewJson.Numbers(json, "receivers", [.. line.Receivers.Select(r => (double)r)]);
        (GridPoint Source, double Seabed)[] pings = [.. line.Pings(receiver)];
        ViewJson.Numbers(json, "sources", [.. pings.SelectMany(p => new[] { p.Source.Easting, p.Source.Northing })]);
        ViewJson.Numbers(json, "seabed", [.. pings.Select(p => p.Seabed)]);
    }
}
