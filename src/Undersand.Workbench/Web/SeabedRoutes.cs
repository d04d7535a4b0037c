using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;
using NodaTime.Text;
using Undersand.Runs.Processing;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;

using Answer = Microsoft.AspNetCore.Http.Results;

namespace Undersand.Workbench.Web;

/// <summary>The seabed laid by hand, over the echoes. A place is “ping, receiver, time” as pointed at there: the ping counted from 0 along the recording, the time in seconds from the start of transmission; the depth is made of it here.</summary>
internal static class SeabedRoutes
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/seabed", ShowAsync);
        app.MapPost("/seabed", ([FromForm] string? line, [FromForm] string? at, [FromForm] string? who, EchoTiles echoes, SeabedDesk desk) =>
            Kept(() => desk.Lay(line ?? "", echoes.Line(line ?? "") is { } found ? Places(found, at) : [], who ?? "")));
        app.MapPost("/seabed/forget", ([FromForm] string? line, [FromForm] string? when, SeabedDesk desk) =>
            Kept(() => desk.Forget(line ?? "", InstantPattern.ExtendedIso.Parse(when ?? "") is { Success: true } then ? then.Value : throw new SurveyException("time", null, $"“{when}” is none", "reload the page"))));
    }

    // What was laid on a line, and what the places drawn so far would lay; with the times at which it answers at a receiver.
    private static async Task<IResult> ShowAsync(string line, int receiver, string? at, EchoTiles echoes, SeabedDesk desk, Painters painters, HttpContext context)
    {
        byte[]? shown = await painters.PaintAsync(() => echoes.Line(line) is { } found && (uint)receiver < (uint)found.Receivers.Count ? JsonBytes.OfObject(j => Refusable(j, () => Write(j, found, receiver, at, line, desk, Units.Of(context).Depth))) : null, context.RequestAborted);
        return shown is null ? Answer.NotFound() : Answer.Bytes(shown, "application/json");
    }

    private static void Write(Utf8JsonWriter json, LineEchoes echoes, int receiver, string? at, string line, SeabedDesk desk, LengthUnit unit)
    {
        LaidSeabed[] laid = [.. desk.Laid.Where(l => l.Line == line)];
        SeabedStretch[] stretches = [.. laid.SelectMany(l => l.Stretches)];
        json.WriteStartArray("laid");
        foreach (LaidSeabed act in laid)
        {
            json.WriteStartObject();
            json.WriteString("words", act.Words + unit.Beside(act.DepthsIn));
            json.WriteString("when", InstantPattern.ExtendedIso.Format(act.When));
            // Where something laid later holds, this one isn't drawn.
            Times(json, echoes, receiver, n => SeabedStretch.Holding(stretches, n) is { } holding && act.Stretches.Contains(holding) ? holding.At(n) : null);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        if (string.IsNullOrEmpty(at))
            return;
        LaidSeabed draft = desk.Propose(line, Places(echoes, at), "");
        json.WriteStartObject("draft");
        json.WriteString("words", string.Join("; instead of ", laid.Where(draft.Overlaps).Select(l => l.Words).Prepend(draft.Extent + unit.Beside(draft.DepthsIn))));
        Times(json, echoes, receiver, n => SeabedStretch.Holding(draft.Stretches, n)?.At(n));
        json.WriteEndObject();
    }

    private static void Times(Utf8JsonWriter json, LineEchoes echoes, int receiver, Func<int, double?> depth)
    {
        (int Ping, double Depth)[] covered = [.. Enumerable.Range(0, echoes.PingCount).Select(p => (p, depth(echoes.NumberOf(p)) ?? double.NaN))];
        int first = Array.FindIndex(covered, c => !double.IsNaN(c.Depth)), last = Array.FindLastIndex(covered, c => !double.IsNaN(c.Depth));
        json.WriteNumber("first", Math.Max(first, 0));
        ViewJson.Numbers(json, "times", first < 0 ? [] : [.. covered[first..(last + 1)].Select(c => echoes.TimeOf(c.Ping, receiver, c.Depth))]);
    }

    private static (int Ping, double Depth)[] Places(LineEchoes echoes, string? words) => [.. (words ?? "").Split(';', StringSplitOptions.RemoveEmptyEntries).Select(place => Place(echoes, place))];

    private static (int Ping, double Depth) Place(LineEchoes echoes, string words) =>
        words.Split(',') is [var p, var r, var t] && int.TryParse(p, NumberStyles.None, CultureInfo.InvariantCulture, out int ping) && ping < echoes.PingCount
        && int.TryParse(r, NumberStyles.None, CultureInfo.InvariantCulture, out int receiver) && receiver < echoes.Receivers.Count && double.TryParse(t, NumberStyles.Float, CultureInfo.InvariantCulture, out double time)
            ? (echoes.NumberOf(ping), echoes.DepthAt(ping, receiver, time)) : throw new SurveyException("place", null, $"“{words}” is not “ping, receiver, time” of this line", "point at the echoes");

    private static IResult Kept(Action act) => Answer.Bytes(JsonBytes.OfObject(json => Refusable(json, act)), "application/json");

    private static void Refusable(Utf8JsonWriter json, Action act)
    {
        try
        {
            act();
        }
        catch (SurveyException refused)
        {
            json.WriteString("why", refused.Message);
        }
    }
}
