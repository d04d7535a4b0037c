using System.Net;
using System.Net.Http;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Network;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Network;

/// <summary>A workbench on the network, asked over TLS as a strange device asks.</summary>
public sealed partial class NetworkTests(SmallResults small) : IAsyncLifetime
{
    private readonly TestFolder _keep = new();
    private readonly CookieContainer _cookies = new();
    private RunningWorkbench? _workbench;
    private HttpClient? _stranger;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private BoatNetwork Network => _workbench!.Network!;

    private HttpClient Stranger => _stranger!;

    public async ValueTask InitializeAsync()
    {
        _workbench = await WorkbenchServer.StartAsync(new WorkbenchOptions(small.Folder) { Network = new NetworkOptions(0, ["survey-desk"], _keep.Path) });
        _stranger = Device(_cookies);
    }

    public async ValueTask DisposeAsync()
    {
        _stranger?.Dispose();
        await _workbench!.DisposeAsync();
        _keep.Dispose();
    }

    [Theory]
    [InlineData("/api/view")]
    [InlineData("/files/targets.csv")]
    [InlineData("/files/maps/seabed.tif")]
    [InlineData("/ogc/collections/targets/items")]
    [InlineData("/legend/seabed.png")]
    [InlineData("/value?e=1&n=1")]
    [InlineData("/_blazor/negotiate?negotiateVersion=1")]
    [InlineData("/ASSETS/../api/view")]
    [InlineData("/assets/%2e%2e/api/view")]
    public async Task Without_a_code_nothing_is_told(string path)
    {
        using HttpResponseMessage answer = await Stranger.GetAsync(path, Stop);
        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        Assert.Empty(await answer.Content.ReadAsByteArrayAsync(Stop));
    }

    [Theory]
    [InlineData("/?t=x&c=1,2", "/pair?next=%2F%3Ft%3Dx%26c%3D1%2C2")]
    [InlineData("/devices", "/pair?next=%2Fdevices")]
    public async Task A_page_leads_to_the_code_first(string path, string to)
    {
        using HttpResponseMessage answer = await Stranger.SendAsync(Asking(path), Stop);
        Assert.Equal((HttpStatusCode.Redirect, to), (answer.StatusCode, answer.Headers.Location!.ToString()));
    }

    [Theory]
    [InlineData("/pair")]
    [InlineData("/assets/nothing-here")]
    [InlineData("/public/nothing-here")]
    public async Task What_is_open_tells_nothing_of_the_survey(string path)
    {
        using HttpResponseMessage answer = await Stranger.SendAsync(Asking(path), Stop);
        string page = Sealed().Replace(await answer.Content.ReadAsStringAsync(Stop), "");
        Assert.Contains("Undersand", page);
        Assert.DoesNotContain("EPSG", page);
        Assert.DoesNotContain("UTM", page);
        Assert.DoesNotContain(SmallName(), page);
    }

    [Fact]
    public async Task A_code_opens_what_its_role_may_see_and_a_forgotten_device_is_outside_at_once()
    {
        Assert.Equal("/lines", (await PairAsync(Role.Look, "/lines"))!.ToString());
        string desk = await Stranger.GetStringAsync($"/?t={Undersand.Workbench.Results.OpenedResults.Open(small.Folder).Targets[0].Id}", Stop);
        Assert.Contains("This device may look", desk);
        Assert.DoesNotContain("class=\"verdict", desk);
        Assert.DoesNotContain(">Undo<", desk);
        Assert.DoesNotContain("Keep outline", desk);
        using HttpResponseMessage lines = await Stranger.SendAsync(Asking("/lines"), Stop);
        Assert.Equal(HttpStatusCode.OK, lines.StatusCode);
        using HttpResponseMessage devices = await Stranger.SendAsync(Asking("/devices"), Stop);
        Assert.Equal(HttpStatusCode.Forbidden, devices.StatusCode);
        Assert.DoesNotContain(Network.Codes.Of(Role.Run), await devices.Content.ReadAsStringAsync(Stop));

        Network.Passes.Forget(Assert.Single(Network.Passes.All).Id);
        using HttpResponseMessage after = await Stranger.GetAsync("/api/view", Stop);
        Assert.Equal(HttpStatusCode.Unauthorized, after.StatusCode);
    }

    [Fact]
    public async Task The_role_of_running_sees_the_codes_and_makes_new_ones()
    {
        await PairAsync(Role.Run, "/");
        string page = await Stranger.GetStringAsync("/devices", Stop), before = Network.Codes.Of(Role.Look);
        Assert.Contains(before, page);
        Assert.Contains(Network.Fingerprint, page);
        using HttpResponseMessage answer = await SubmitAsync("/devices", page, new() { ["_handler"] = "renew" });
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.NotEqual(before, Network.Codes.Of(Role.Look));
    }

    [Theory]
    [InlineData("//elsewhere.example/")]
    [InlineData("https://elsewhere.example/")]
    [InlineData("/\\elsewhere.example")]
    public async Task Pairing_leads_to_no_page_but_ours(string next)
    {
        Assert.Equal("/", (await PairAsync(Role.Look, next))!.ToString());
    }

    [Fact]
    public async Task A_form_without_its_token_is_refused()
    {
        using HttpResponseMessage answer = await Stranger.PostAsync("/pair", new FormUrlEncodedContent(new Dictionary<string, string> { ["_handler"] = "pair", ["Code"] = Network.Codes.Of(Role.Run), ["Who"] = "Mallory" }), Stop);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Empty(Network.Passes.All);
    }

    [Fact]
    public async Task Wrong_codes_pair_nobody_and_soon_must_wait()
    {
        string page = "";
        for (int i = 0; i <= PairingCodes.WrongPerMinute; i++)
        {
            using HttpResponseMessage answer = await PostCodeAsync("0", "/");
            page = await answer.Content.ReadAsStringAsync(Stop);
            Assert.Contains(i < PairingCodes.WrongPerMinute ? "none of the codes" : "Wait a minute", page);
        }
        Assert.Empty(Network.Passes.All);
    }

    [Fact]
    public async Task The_cookie_is_for_this_server_over_tls_and_for_no_script()
    {
        await PairAsync(Role.Look, "/");
        Cookie pass = Assert.Single(_cookies.GetAllCookies(), c => c.Name == Gate.Cookie);
        Assert.True(pass is { Secure: true, HttpOnly: true });
    }

    [Theory]
    [InlineData("survey-desk", HttpStatusCode.Unauthorized)]
    [InlineData("elsewhere.example", HttpStatusCode.MisdirectedRequest)]
    public async Task Only_allowed_names_are_answered(string host, HttpStatusCode status)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/api/view") { Headers = { Host = $"{host}:{Network.Port}" } };
        using HttpResponseMessage answer = await Stranger.SendAsync(request, Stop);
        Assert.Equal(status, answer.StatusCode);
    }

    [Fact]
    public async Task A_gis_looks_with_the_code_as_its_password()
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/ogc/collections/targets/items");
        request.Headers.Authorization = new("Basic", Convert.ToBase64String(Encoding.UTF8.GetBytes("qgis:" + Network.Codes.Of(Role.Run))));
        using HttpResponseMessage answer = await Stranger.SendAsync(request, Stop);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        request.Headers.Clear();
        using var devices = new HttpRequestMessage(HttpMethod.Get, "/devices");
        devices.Headers.Authorization = new("Basic", Convert.ToBase64String(Encoding.UTF8.GetBytes("qgis:" + Network.Codes.Of(Role.Run))));
        using HttpResponseMessage refused = await Stranger.SendAsync(devices, Stop);
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
    }

    [Fact]
    public async Task The_certificate_is_the_one_on_the_screen()
    {
        string? seen = null;
        using var handler = new HttpClientHandler { ServerCertificateCustomValidationCallback = (_, certificate, _, _) => (seen = certificate!.GetCertHashString(HashAlgorithmName.SHA256)) is not null };
        using var client = new HttpClient(handler) { BaseAddress = Stranger.BaseAddress };
        await client.GetStringAsync("/alive", Stop);
        Assert.Equal(Network.Fingerprint.Replace(":", ""), seen);
    }

    [Fact]
    public async Task At_the_machine_itself_nobody_needs_a_code()
    {
        using var here = new HttpClient { BaseAddress = _workbench!.Address };
        Assert.Contains(Network.Codes.Of(Role.Judge), await here.GetStringAsync("/devices", Stop));
        Assert.DoesNotContain(Network.Codes.Of(Role.Judge), await small.Client.GetStringAsync("/devices", Stop));
    }

    private HttpClient Device(CookieContainer cookies) =>
        new(new HttpClientHandler { CookieContainer = cookies, AllowAutoRedirect = false, ServerCertificateCustomValidationCallback = HttpClientHandler.DangerousAcceptAnyServerCertificateValidator }) { BaseAddress = new UriBuilder("https", "127.0.0.1", Network.Port).Uri };

    private static HttpRequestMessage Asking(string path) => new(HttpMethod.Get, path) { Headers = { { "Accept", "text/html" } } };

    private async Task<Uri?> PairAsync(Role role, string next)
    {
        using HttpResponseMessage answer = await PostCodeAsync(Network.Codes.Of(role), next);
        Assert.Equal(HttpStatusCode.Found, answer.StatusCode);
        Uri to = answer.Headers.Location!;
        return to.IsAbsoluteUri && to.Authority == Stranger.BaseAddress!.Authority ? new Uri(to.PathAndQuery, UriKind.Relative) : to;
    }

    private async Task<HttpResponseMessage> PostCodeAsync(string code, string next)
    {
        string path = "/pair?next=" + Uri.EscapeDataString(next), page = await Stranger.GetStringAsync(path, Stop);
        return await SubmitAsync(path, page, new() { ["_handler"] = "pair", ["Code"] = code, ["Who"] = "Ada" });
    }

    private Task<HttpResponseMessage> SubmitAsync(string path, string page, Dictionary<string, string> fields)
    {
        fields["__RequestVerificationToken"] = WebUtility.HtmlDecode(Regex.Match(page, "name=\"__RequestVerificationToken\" value=\"([^\"]+)\"").Groups[1].Value);
        return Stranger.PostAsync(path, new FormUrlEncodedContent(fields), Stop);
    }

    /// <summary>
    /// What ASP.NET Core's data protection sealed (its magic header 09 F0 C9 F0 begins every one): random letters, which say "UTM"
    /// now and then.
    /// </summary>
    [GeneratedRegex("CfDJ8[A-Za-z0-9+/=_-]+")]
    private static partial Regex Sealed();

    private string SmallName() => Undersand.Workbench.Results.OpenedResults.Open(small.Folder).Name;
}
