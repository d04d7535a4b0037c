using Microsoft.AspNetCore.Http;
using Undersand.Workbench.Network;

namespace Undersand.Workbench.Web;

/// <summary>Answers only browsers that mean this program, and tells them to load nothing from elsewhere.</summary>
/// <remarks>
/// The server itself looks at no host name, so that a page of a stranger could reach it under a name of its own (DNS rebinding): hosts are checked here.
/// Requests that may change something, and the live connection, must come from a page of ours.
/// </remarks>
internal sealed class Doorkeeper(RequestDelegate next, Visitors visitors)
{
    /// <summary>Nothing from outside, no script in a page; styles in a page are what the framework needs.</summary>
    public const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; "
        + "form-action 'self'; base-uri 'self'; frame-ancestors 'none'; object-src 'none'";

    public Task InvokeAsync(HttpContext context)
    {
        HttpRequest request = context.Request;
        if (visitors.Network is { } network && request.IsHttps ? !network.Hosts.Contains(request.Host.Host, StringComparer.OrdinalIgnoreCase) : request.Host.Host is not ("127.0.0.1" or "localhost"))
            return Refuse(context, StatusCodes.Status421MisdirectedRequest, $"This workbench doesn't answer to the name {Uri.EscapeDataString(request.Host.Host)}; --host adds a name on the boat's network.");
        bool safe = HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method);
        string? origin = request.Headers.Origin;
        // A form of ours comes from “null”, since pages tell nobody where they were; that it is ours the browser says in a header that no page can set.
        if (origin == "null" && request.Headers["Sec-Fetch-Site"] == "same-origin")
            origin = null;
        if ((!safe || context.WebSockets.IsWebSocketRequest || request.Headers.Upgrade.Count > 0) && origin is not null && origin != $"{request.Scheme}://{request.Host}")
            return Refuse(context, StatusCodes.Status403Forbidden, "This request comes from a page that is not the workbench's.");
        IHeaderDictionary headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()";
        return next(context);
    }

    private static Task Refuse(HttpContext context, int status, string sentence)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(sentence);
    }
}
