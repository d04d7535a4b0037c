using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Undersand.Workbench.Results;
using Undersand.Workbench.Web;

namespace Undersand.Workbench;

/// <summary>Starts the workbench: pages, pictures and features of one results folder, for browsers on this machine.</summary>
public static class WorkbenchServer
{
    /// <summary>Whether the part that draws map and section was bundled into this build.</summary>
    public static bool HasClient => EmbeddedFiles.HasClient;

    /// <summary>Opens a results folder and answers on 127.0.0.1.</summary>
    /// <exception cref="SurveyException">The folder holds no results, or the port is taken.</exception>
    public static async Task<RunningWorkbench> StartAsync(WorkbenchOptions options)
    {
        OpenedResults results = OpenedResults.Open(options.Results);
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions { ApplicationName = typeof(WorkbenchServer).Assembly.GetName().Name });
        builder.Logging.SetMinimumLevel(LogLevel.Warning);
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Listen(IPAddress.Loopback, options.Port);
        });
        builder.Services.AddRoutingCore().AddSingleton(results).AddSingleton(_ => new Pictures.BaseMaps(options.Bases, results.Crs.Epsg)).AddSingleton<JudgementDesk>().AddSingleton<Pictures.SectionTiles>().AddSingleton<Pictures.MapTiles>();
        builder.Services.AddHttpContextAccessor();
        builder.Services.AddAntiforgery(a => (a.Cookie.Name, a.Cookie.SameSite, a.SuppressXFrameOptionsHeader) = ("undersand.form", Microsoft.AspNetCore.Http.SameSiteMode.Strict, true));
        builder.Services.AddRazorComponents().AddInteractiveServerComponents();
        // Keys that protect a circuit's state live as long as the program: a new start makes new circuits anyway.
        builder.Services.AddDataProtection().UseEphemeralDataProtectionProvider();
        WebApplication app = builder.Build();
        app.UseMiddleware<Doorkeeper>();
        app.UseWhen(c => c.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal), pages => pages.UseStatusCodePagesWithReExecute("/not-here"));
        app.UseRouting();
        app.UseAntiforgery();
        Routes.Map(app);
        try
        {
            await app.StartAsync();
        }
        catch (IOException fault) when (fault.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            throw new SurveyException($"port {options.Port}", null, "something else answers there", "choose another with --port, or leave it out", fault);
        }
        var readAhead = new Thread(() => ReadAhead(app)) { IsBackground = true, Priority = ThreadPriority.BelowNormal, Name = "read ahead" };
        readAhead.Start();
        string address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
        return new RunningWorkbench(app, new Uri(address), app.Services.GetRequiredService<Pictures.BaseMaps>().Refused);
    }

    // A damaged tile is said when someone looks at it.
    private static void ReadAhead(WebApplication app)
    {
        try
        {
            app.Services.GetRequiredService<Pictures.SectionTiles>().ReadAhead(app.Lifetime.ApplicationStopping);
        }
        catch (Exception fault) when (fault is SurveyException or IOException or ObjectDisposedException)
        {
            return;
        }
    }
}
