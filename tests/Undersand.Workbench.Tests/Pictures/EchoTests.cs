using System.Net;
using System.Net.Http;
using System.Text.Json;
using Undersand.Imaging.Conditioning;
using Undersand.Runs.Processing;
using Undersand.Runs.Tests.Support;
using Undersand.Signal;
using Undersand.Storage.Surveys;
using Undersand.Workbench.Pictures;
using Undersand.Workbench.Results;
using Undersand.Workbench.Tests.Support;

namespace Undersand.Workbench.Tests.Pictures;

public sealed class EchoTests
{
    private const string Line = "line-01.sgy";
    private readonly SmallResults _small;
    private readonly RecordedSurvey _recorded;
    private readonly EchoTiles _echoes;

    public EchoTests(SmallResults small)
    {
        _small = small;
        OpenedResults results = OpenedResults.Open(small.Folder);
        _recorded = new RecordedSurvey(results, null);
        _echoes = new EchoTiles(results, _recorded);
    }

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public void A_column_is_a_ping_of_the_recording_compressed_and_in_decibels()
    {
        const int receiver = 3, ping = 7;
        using SurveyFolder folder = SurveyFolder.Open(_small.Survey, Formulas.OfScience, null, Stop);
        ISurveyLine line = folder.Lines.Single(l => l.Name == Line);
        PulseCompressor compressor = Compressors.For(folder.Survey, line, new CompressionSettings());
        var raw = new float[line.PingAt(ping).Receivers.Count * line.SampleCount];
        line.Read(ping, raw);
        Span<float> trace = raw.AsSpan(receiver * line.SampleCount, line.SampleCount);
        float mean = trace.ToArray().Average(), scale = folder.Survey.Calibration is { } c ? (float)(c.PascalPerUnit / c.SourcePressureAt1Metre) : 1;
        foreach (ref float sample in trace)
            sample = (sample - mean) * scale;
        var pulses = new float[2 * compressor.SampleCount];
        compressor.Apply(trace, line.PingAt(ping).FirstSampleTime, pulses);

        LineEchoes echoes = _echoes.Line(Line)!;
        Picture picture = Picture.Read(_echoes.Picture(Line, receiver, 0, 0, 0)!);
        Assert.Equal((256, echoes.Rows), (picture.Width, picture.Height));
        int fold = (int)Math.Round(echoes.Interval / compressor.Interval);
        for (int row = 0; row < echoes.Rows; row++)
        {
            double strength = 0;
            for (int i = row * fold; i < Math.Min((row + 1) * fold, compressor.SampleCount); i++)
                strength = Math.Max(strength, Math.Sqrt(pulses[2 * i] * pulses[2 * i] + pulses[2 * i + 1] * pulses[2 * i + 1]));
            int entry = EchoTiles.Strength.IndexOf(20 * Math.Log10(strength / echoes.Strongest));
            Assert.InRange(picture[ping, row], entry - 1, entry + 1);
        }
        // Beyond the last ping there is nothing.
        if (echoes.PingCount < 256)
            Assert.All(Enumerable.Range(0, echoes.Rows), row => Assert.Equal(0, picture[echoes.PingCount, row]));
    }

    [Fact]
    public void The_tracked_seabed_lies_on_its_echo()
    {
        LineEchoes echoes = _echoes.Line(Line)!;
        Picture picture = Picture.Read(_echoes.Picture(Line, 0, 0, 0, 0)!);
        var pings = echoes.Pings(0).ToArray();
        Assert.Equal(echoes.PingCount, pings.Length);
        int within = 0, found = 0;
        for (int ping = 0; ping < Math.Min(pings.Length, 256); ping++)
            if (!double.IsNaN(pings[ping].Seabed))
            {
                found++;
                // Away from the direct arrival, in the second half of the time to the seabed and until a little under it.
                int at = (int)((pings[ping].Seabed - echoes.FirstTime) / echoes.Interval), first = at / 2, last = Math.Min(echoes.Rows, at + at / 8);
                int strongest = Enumerable.Range(first, last - first).MaxBy(row => picture[ping, row]);
                if (Math.Abs(strongest - at) * echoes.Interval < 0.0002)
                    within++;
            }
        Assert.True(found > 0.8 * pings.Length, $"{found} of {pings.Length}");
        Assert.True(within > 0.9 * found, $"{within} of {found}");
    }

    [Fact]
    public void A_place_pointed_at_gives_the_depth_whose_echo_comes_at_that_time()
    {
        LineEchoes echoes = _echoes.Line(Line)!;
        const double rounding = 1e-12;
        int found = 0;
        for (int receiver = 0; receiver < echoes.Receivers.Count; receiver++)
        {
            double earlier = 0;
            for (int row = 0; row < echoes.Rows; row++)
            {
                double time = echoes.FirstTime + row * echoes.Interval, depth = echoes.DepthAt(10, receiver, time);
                if (double.IsNaN(depth))
                    continue;
                found++;
                Assert.True(depth > earlier);
                Assert.Equal(time, echoes.TimeOf(10, receiver, earlier = depth), rounding);
            }
            // And the seabed as tracked comes back from where it is drawn.
            double?[] tracked = [.. OpenedResults.Open(_small.Folder).Contents.Lines.Single(l => l.Name == Line).Pings.Select(p => p.SeabedDepth)];
            foreach (var (ping, (_, time)) in echoes.Pings(receiver).Index().Where(p => !double.IsNaN(p.Item.Seabed)))
                Assert.Equal(tracked[ping]!.Value, echoes.DepthAt(ping, receiver, time), 1e-9);
        }
        Assert.InRange(found, echoes.Rows, echoes.Rows * echoes.Receivers.Count);
    }

    [Fact]
    public void Gain_is_decibels_and_coarser_columns_keep_the_greatest()
    {
        Picture plain = Picture.Read(_echoes.Picture(Line, 1, 0, 0, 0)!), louder = Picture.Read(_echoes.Picture(Line, 1, 0, 0, 20)!), coarse = Picture.Read(_echoes.Picture(Line, 1, 1, 0, 0)!);
        for (int i = 0; i < plain.Indices.Length; i += 11)
            if (plain.Indices[i] > 1)
                Assert.InRange(louder.Indices[i], Math.Min(255, plain.Indices[i] + 84), Math.Min(255, plain.Indices[i] + 86));
        for (int row = 0; row < plain.Height; row++)
            for (int x = 0; x < 128; x++)
                Assert.Equal(Math.Max(plain[2 * x, row], plain[2 * x + 1, row]), coarse[x, row]);
    }

    [Fact]
    public async Task The_server_shows_echoes_and_refuses_what_is_none()
    {
        using JsonDocument about = JsonDocument.Parse(await _small.Client.GetStringAsync($"/echoes?line={Line}&receiver=0", Stop));
        Assert.Equal(5, about.RootElement.GetProperty("receivers").GetArrayLength());
        Assert.Equal(_echoes.Picture(Line, 4, 0, 0, 10), await _small.Client.GetByteArrayAsync($"/echoes/4/0/0.png?line={Line}&gain=10", Stop));
        foreach (string wrong in new[] { $"?line={Line}&receiver=5", "?line=elsewhere.sgy&receiver=0", $"/5/0/0.png?line={Line}&gain=0", $"/0/9/0.png?line={Line}&gain=0", $"/0/0/100000.png?line={Line}&gain=0", $"/0/0/0.png?line={Line}&gain=61", $"/0/0/-1.png?line={Line}&gain=0", "/0/0/0.png?line=..%2Fline-01.sgy&gain=0" })
        {
            using HttpResponseMessage answer = await _small.Client.GetAsync("/echoes" + wrong, Stop);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        }
    }

    [Fact]
    public async Task Where_the_recordings_are_gone_a_sentence_says_so_and_what_to_do()
    {
        using TestFolder copy = _small.Copy("results");
        await using RunningWorkbench alone = await WorkbenchServer.StartAsync(new WorkbenchOptions(copy["results"]));
        using var client = new HttpClient { BaseAddress = alone.Address };
        string answer = await client.GetStringAsync($"/echoes?line={Line}&receiver=0", Stop);
        Assert.Contains("put the survey\\u0027s folder, unchanged, beside the results\\u0027 folder", answer);
        using HttpResponseMessage picture = await client.GetAsync($"/echoes/0/0/0.png?line={Line}&gain=0", Stop);
        Assert.Equal(HttpStatusCode.NotFound, picture.StatusCode);
    }
}
