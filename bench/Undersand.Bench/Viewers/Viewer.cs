using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.SignalR.Client;
using Microsoft.AspNetCore.SignalR.Protocol;
using Microsoft.Extensions.DependencyInjection;

namespace Undersand.Bench.Viewers;

/// <summary>One person at the workbench, without a screen: a page with its live connection, who chooses targets and looks at pictures.</summary>
internal sealed class Viewer(HttpClient client, View view, int number) : IAsyncDisposable
{
    private readonly Random _random = new(number);
    private readonly SemaphoreSlim _drawn = new(0);
    private HubConnection? _connection;
    private long _panel = -1;
    private int _call;

    public List<double> Pictures { get; } = [];

    public List<double> Choices { get; } = [];

    public bool Alive => _connection?.State == HubConnectionState.Connected;

    /// <summary>Loads the page and connects it, as the browser's script does.</summary>
    public async Task OpenAsync(CancellationToken stop)
    {
        string page = await client.GetStringAsync("/", stop);
        string state = Regex.Match(page, "<!--Blazor-Server-Component-State:([^>]*)-->").Groups[1].Value;
        string[] markers = [.. Regex.Matches(page, "<!--Blazor:(\\{\"type\":\"server\".*?\\})-->").Select(m => m.Groups[1].Value)];
        IHubConnectionBuilder builder = new HubConnectionBuilder().WithUrl(new Uri(client.BaseAddress!, "/_blazor"), o => (o.SkipNegotiation, o.Transports) = (true, Microsoft.AspNetCore.Http.Connections.HttpTransportType.WebSockets));
        builder.Services.AddSingleton<IHubProtocol, PageProtocol>();
        HubConnection connection = _connection = builder.Build();
        connection.On<int, byte[]>("JS.RenderBatch", async (batch, _) =>
        {
            await connection.SendAsync("OnRenderCompleted", (long)batch, null, CancellationToken.None);
            _drawn.Release();
        });
        connection.On<long, string, string, int, long, int>("JS.BeginInvokeJS", (call, name, arguments, _, _, _) => Called(connection, call, arguments));
        connection.On<string>("JS.EndInvokeDotNet", _ => { });
        connection.On<string>("JS.Error", words => throw new InvalidOperationException(words));
        connection.On<string>("JS.EndUpdateRootComponents", _ => { });
        await connection.StartAsync(stop);
        string secret = await connection.InvokeAsync<string>("StartCircuit", client.BaseAddress!.ToString(), client.BaseAddress.ToString(), "[]", state, stop);
        if (string.IsNullOrEmpty(secret))
            throw new InvalidOperationException("no circuit was started");
        string operations = string.Join(',', markers.Select((m, i) => $"{{\"type\":\"add\",\"ssrComponentId\":{i + 1},\"marker\":{m}}}"));
        await connection.SendAsync("UpdateRootComponents", $"{{\"batchId\":1,\"operations\":[{operations}]}}", state, stop);
        for (int i = 0; i < 200 && _panel < 0; i++)
            await Task.Delay(50, stop);
        if (_panel < 0)
            throw new InvalidOperationException("the page did not come alive");
    }

    /// <summary>Looks round until told to stop: a few pictures, a choice, a pause.</summary>
    public async Task LookAsync(CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => PictureAsync(view.AnyPicture(_random), stop)));
            await ChooseAsync(view.Targets[_random.Next(view.Targets.Count)], stop);
            await Task.Delay(_random.Next(300, 1500), stop);
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (_connection is not null)
            await _connection.DisposeAsync();
        _drawn.Dispose();
    }

    private async Task PictureAsync(string path, CancellationToken stop)
    {
        long start = Stopwatch.GetTimestamp();
        using HttpResponseMessage answer = await client.GetAsync(path, stop);
        await answer.Content.ReadAsByteArrayAsync(stop);
        if (answer.StatusCode is not (HttpStatusCode.OK or HttpStatusCode.NotFound))
            throw new InvalidOperationException($"{path}: {answer.StatusCode}");
        lock (Pictures)
            Pictures.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
    }

    private async Task ChooseAsync(string id, CancellationToken stop)
    {
        while (_drawn.Wait(0, stop))
        {
        }
        long start = Stopwatch.GetTimestamp();
        await _connection!.SendAsync("BeginInvokeDotNetFromJS", (++_call).ToString(CultureInfo.InvariantCulture), null, "Tell", _panel, JsonSerializer.Serialize(new[] { "choose", id }), stop);
        if (await _drawn.WaitAsync(TimeSpan.FromSeconds(10), stop))
            Choices.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        else
            Choices.Add(double.PositiveInfinity);
    }

    // Answers every call with nothing, and remembers the list's handle.
    private async Task Called(HubConnection connection, long call, string arguments)
    {
        if (Regex.Match(arguments, "\"__dotNetObject\":(\\d+)") is { Success: true } panel)
            _panel = long.Parse(panel.Groups[1].Value, CultureInfo.InvariantCulture);
        if (call != 0)
            await connection.SendAsync("EndInvokeJSFromDotNet", call, true, $"[{call},true,null]");
    }
}
