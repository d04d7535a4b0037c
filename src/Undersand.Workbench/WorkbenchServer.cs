using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Undersand.Workbench.Network;
using Undersand.Workbench.Results;
using Undersand.Workbench.Web;
using Undersand.Workbench.Work;

namespace Undersand.Workbench;

/// <summary>Starts the workbench: pages, pictures and features of one results folder, and runs that renew it, for browsers on this machine and, where asked for, on the boat's network.</summary>
public static class WorkbenchServer
{
    /// <summary>Whether the part that draws map and section was bundled into this build.</summary>
    public static bool HasClient => EmbeddedFiles.HasClient;

    /// <summary>Opens a folder and answers on 127.0.0.1, and on the boat's network over TLS where the options say so.</summary>
    /// <exception cref="SurveyException">The folder holds neither results nor a survey, or a port is taken.</exception>
    public static async Task<RunningWorkbench> StartAsync(WorkbenchOptions options)
    {
        var shelf = new ResultsShelf(WorkPlace.Of(options.Place, options.Out, options.Watch));
        if (shelf.Place.HasResults)
            shelf.Renew();
        BoatNetwork? network = options.Network is { } wanted ? BoatNetwork.Prepare(wanted) : null;
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions { ApplicationName = typeof(WorkbenchServer).Assembly.GetName().Name });
        builder.Logging.SetMinimumLevel(LogLevel.Warning);
        builder.WebHost.UseKestrelCore().UseKestrelHttpsConfiguration().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Listen(IPAddress.Loopback, options.Port);
            if (network is not null)
                kestrel.ListenAnyIP(network.Port, listen => listen.UseHttps(network.Certificate));
        });
        builder.Services.AddRoutingCore().AddSingleton(shelf).AddSingleton<JudgementDesk>().AddShown(s => s.Results).AddShown(s => s.Sections).AddShown(s => s.Maps).AddShown(s => s.Bricks).AddShown(s => s.Recorded).AddShown(s => s.Echoes).AddTransient<SeabedDesk>().AddSingleton<Pictures.Painters>();
        builder.Services.AddSingleton(p => new Pictures.BaseMaps(options.Bases, p.GetRequiredService<ResultsShelf>().Shown.Results.Crs.Epsg));
        builder.Services.AddSingleton(options.Runner).AddSingleton<RunDesk>().AddSingleton<SurveyWatch>();
        builder.Services.AddSingleton(new Visitors(network)).AddScoped<Microsoft.AspNetCore.Components.Server.Circuits.CircuitHandler, VisitorCircuit>();
        builder.Services.AddHttpContextAccessor();
        // A cookie is every port's: two workbenches that run, each with keys of its own, don't take each other's.
        string form = "undersand.form." + System.Security.Cryptography.RandomNumberGenerator.GetHexString(8, lowercase: true);
        builder.Services.AddAntiforgery(a => (a.Cookie.Name, a.Cookie.SameSite, a.Cookie.SecurePolicy, a.SuppressXFrameOptionsHeader) = (form, SameSiteMode.Strict, CookieSecurePolicy.SameAsRequest, true));
        builder.Services.AddRazorComponents().AddInteractiveServerComponents();
        // Keys that protect a circuit's state live as long as the program: a new start makes new circuits anyway.
        builder.Services.AddDataProtection().UseEphemeralDataProtectionProvider();
        WebApplication app = builder.Build();
        app.UseMiddleware<Doorkeeper>().UseMiddleware<Gate>().UseMiddleware<NothingYet>().UseMiddleware<SecondJudge>();
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
            throw new SurveyException($"port {(network is null ? options.Port : $"{options.Port} or {network.Port}")}", null, "something else answers there", network is null ? "choose another with --port, or leave it out" : "choose others with --port and --network-port", fault);
        }
        shelf.Changed += () => ReadAheadAside(app);
        ReadAheadAside(app);
        if (options.Watch)
            app.Services.GetRequiredService<SurveyWatch>().Begin();
        ICollection<string> addresses = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses;
        if (network is not null)
            network.Port = new Uri(addresses.First(a => a.StartsWith("https:", StringComparison.Ordinal)).Replace("[::]", "localhost", StringComparison.Ordinal)).Port;
        string what = shelf.Now is not null ? shelf.Place.Results : $"no results yet, and offers to make {(shelf.Place.Demo is null ? "them" : "the demo")}";
        return new RunningWorkbench(app, new Uri(addresses.First(a => a.StartsWith("http:", StringComparison.Ordinal))), what, network, shelf.Now is null ? [] : app.Services.GetRequiredService<Pictures.BaseMaps>().Refused);
    }

    private static void ReadAheadAside(WebApplication app) =>
        new Thread(() => ReadAhead(app)) { IsBackground = true, Priority = ThreadPriority.BelowNormal, Name = "read ahead" }.Start();

    // A damaged tile is said when someone looks at it.
    private static void ReadAhead(WebApplication app)
    {
        try
        {
            app.Services.GetRequiredService<ResultsShelf>().Now?.Sections.ReadAhead(app.Lifetime.ApplicationStopping);
        }
        catch (Exception fault) when (fault is SurveyException or IOException or ObjectDisposedException)
        {
            return;
        }
    }
}
