using Microsoft.AspNetCore.Http;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Web;

/// <summary>Before there are results, leads every page to the one where they are made; pictures and features aren't there yet.</summary>
internal sealed class NothingYet(RequestDelegate next, ResultsShelf shelf)
{
    private static readonly string[] s_always = ["/runs", "/assets", "/client", "/alive", "/_blazor", "/not-here"];

    public Task InvokeAsync(HttpContext context)
    {
        if (shelf.Now is not null || s_always.Any(p => context.Request.Path.StartsWithSegments(p, StringComparison.Ordinal)))
            return next(context);
        if (context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal))
            context.Response.Redirect("/runs");
        else
            context.Response.StatusCode = StatusCodes.Status404NotFound;
        return Task.CompletedTask;
    }
}
