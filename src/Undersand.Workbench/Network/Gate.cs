using System.Net.Http.Headers;
using System.Text;
using Microsoft.AspNetCore.Http;

namespace Undersand.Workbench.Network;

/// <summary>Lets in whoever sits at this machine, and from the boat's network devices that are paired.</summary>
/// <remarks>Programs without a browser (a GIS) send a code with each question, as the password of HTTP's basic scheme (RFC 7617), and may look.</remarks>
internal sealed class Gate(RequestDelegate next, Visitors visitors)
{
    public const string Cookie = "undersand.pass";

    public async Task InvokeAsync(HttpContext context)
    {
        HttpRequest request = context.Request;
        if (visitors.Network is not { } network || !request.IsHttps)
            context.User = Visitors.Here;
        else if (request.Cookies[Cookie] is { } secret && network.Passes.Of(secret) is { } pass)
            context.User = Visitors.With(pass);
        else if (CodeOf(request) is { } code && network.Codes.Try(code, out _) is true)
            context.User = Visitors.Looking;
        visitors.Note(context.User);
        if (IsOpen(request.Path) || visitors.MayNow(Least(request.Path)))
        {
            await next(context);
            return;
        }
        if (visitors.RoleOf(context.User) is not null)
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            await context.Response.WriteAsync("This needs the role “run”: pair this device again with that code.");
        }
        else if (HttpMethods.IsGet(request.Method) && request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal))
            context.Response.Redirect("/pair?next=" + Uri.EscapeDataString(request.Path + request.QueryString.Value));
        else
        {
            context.Response.StatusCode = StatusCodes.Status401Unauthorized;
            context.Response.Headers.WWWAuthenticate = "Basic realm=\"Undersand: any name, and the code for looking\", charset=\"UTF-8\"";
        }
    }

    // What tells nothing of the survey.
    private static bool IsOpen(PathString path) =>
        path.StartsWithSegments("/pair", StringComparison.Ordinal) || path.StartsWithSegments("/assets", StringComparison.Ordinal) || path.StartsWithSegments("/client", StringComparison.Ordinal)
        || path == "/alive" || path.StartsWithSegments("/public", StringComparison.Ordinal);

    private static Role Least(PathString path) => path.StartsWithSegments("/devices", StringComparison.OrdinalIgnoreCase) ? Role.Run : Role.Look;

    private static string? CodeOf(HttpRequest request)
    {
        if (!AuthenticationHeaderValue.TryParse(request.Headers.Authorization, out var sent) || !sent.Scheme.Equals("Basic", StringComparison.OrdinalIgnoreCase))
            return null;
        try
        {
            string pair = Encoding.UTF8.GetString(Convert.FromBase64String(sent.Parameter ?? ""));
            return pair[(pair.IndexOf(':', StringComparison.Ordinal) + 1)..];
        }
        catch (FormatException)
        {
            return null;
        }
    }
}
