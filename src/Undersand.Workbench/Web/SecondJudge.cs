using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Undersand.Runs.Reporting;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Web;

/// <summary>Keeps from the second judge's browser what a blind judgement must not know: the machine's probability and order, and what others said.</summary>
/// <remarks>
/// The browser is known by a cookie that the beginning of the round gave it. While the round runs, only what is listed here answers it; whatever is added to
/// the workbench later is withheld until it is listed too. This keeps honest people blind; whoever wants to look can open another browser.
/// </remarks>
internal sealed class SecondJudge(RequestDelegate next)
{
    private static readonly string[] s_quantities = ["seabed", "seen", "ground", "reflectivity", "coherence", "echo"];
    private static readonly string[] s_paths = ["/", "/second", "/second/end", "/not-here", "/alive", "/api/view", "/api/magnetics", "/echoes", "/value"];
    private static readonly string[] s_folders = ["/assets/", "/client/", "/base/", "/echoes/", "/_blazor", "/_framework/"];
    private static readonly string[] s_pictures = ["map", "slice", "section", "legend", "brick"];

    public Task InvokeAsync(HttpContext context, JudgementDesk desk)
    {
        if (RoundOf(context, desk) is null)
            return next(context);
        context.Response.Headers.CacheControl = "no-store";
        string path = context.Request.Path.Value ?? "/";
        string[] parts = path.Split('/', StringSplitOptions.RemoveEmptyEntries);
        bool may = s_paths.Contains(path) || s_folders.Any(f => path.StartsWith(f, StringComparison.Ordinal))
            || parts.Length > 1 && s_pictures.Contains(parts[0]) && s_quantities.Contains(parts[1].Split('.')[0]);
        if (may)
            return next(context);
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync("Withheld while this browser judges blind. End the round at /second to see it.");
    }

    /// <summary>The round in which this browser judges blind, or null.</summary>
    public static BlindRound? RoundOf(HttpContext? context, JudgementDesk desk) =>
        context is not null && desk.HasResults && desk.Judged.Round is { IsOver: false } round && context.Request.Cookies[CookieOf(round.Seed)] == round.Seed ? round : null;

    /// <summary>The round's cookie: a browser may judge blind in several workbenches, which share their cookies.</summary>
    public static string CookieOf(string seed) => "undersand.second." + seed[..8];

    public static IReadOnlyList<Quantity> MayShow(IReadOnlyList<Quantity> quantities) => [.. quantities.Where(q => s_quantities.Contains(q.Name))];

    /// <summary>The second judge's own verdicts, for map and section.</summary>
    public static IReadOnlyDictionary<string, SaidMark> Said(JudgedSurvey judged) =>
        judged.Second.Where(j => j.Value.Verdict is not null).ToDictionary(j => j.Key, j => new SaidMark(SayingWords.Of(j.Value.Verdict!.Value), [], [], []));

    public static void Map(WebApplication app)
    {
        app.MapPost("/second/begin", ([Microsoft.AspNetCore.Mvc.FromForm] string? who, HttpContext context, JudgementDesk desk) => Forms.Answer(() =>
        {
            string seed = desk.BeginRound(who ?? "");
            context.Response.Cookies.Append(CookieOf(seed), seed, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/", IsEssential = true });
        }, "/", "/second"));
        app.MapPost("/second/end", ([Microsoft.AspNetCore.Mvc.FromForm] string? sure, JudgementDesk desk) => Forms.Answer(() =>
        {
            if (sure == "on")
                desk.EndRound();
        }, "/second", "/second"));
    }
}
