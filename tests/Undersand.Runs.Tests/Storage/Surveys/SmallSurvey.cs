using System.Buffers.Binary;
using NodaTime;
using Undersand.Runs.Tests.Support;
using Undersand.Storage.SegY;
using Undersand.Storage.Surveys;

namespace Undersand.Runs.Tests.Storage.Surveys;

/// <summary>A line in memory: an oscillation with seeded noise, receivers abreast, a ping each quarter second.</summary>
internal sealed class MemoryLine(string name, int pings, int receivers, int samples, double easting = 500000, double amplitude = 1) : ISurveyLine
{
    public static readonly Instant Start = Instant.FromUtc(2026, 5, 4, 10, 0);

    public string Name => name;
    public int PingCount => pings;
    public int SampleCount => samples;
    public double SampleInterval { get; init; } = 20e-6;
    public bool IsCorrelated { get; init; }
    public ReadOnlyMemory<float>? Replica { get; init; }

    public Ping PingAt(int i) => new(101 + i, Start + Duration.FromMilliseconds(250 * i), 0.001, new GridPoint(easting, 5761000 + 0.25 * i, 10.5),
        [.. Enumerable.Range(1, receivers).Select(r => new Receiver(r, new GridPoint(easting + 0.1 * r, 5761000 + 0.25 * i, 10.4), true))]);

    public void Read(int ping, Span<float> output)
    {
        var random = new Random(1000 * ping + 7);
        for (int k = 0; k < receivers * samples; k++)
            output[k] = (float)(amplitude * (Math.Sin(0.9 * k + ping) + 0.1 * (random.NextDouble() - 0.5)));
    }

    public float[] All(int ping)
    {
        float[] all = new float[receivers * samples];
        Read(ping, all);
        return all;
    }
}

/// <summary>A survey folder of two small lines, to be spoilt by tests.</summary>
internal sealed class SmallSurvey : IDisposable
{
    public const int Receivers = 4, Samples = 300, Pings = 12, TraceSize = 240 + 4 * Samples;
    public static readonly Waveform Chirp = new(4000, 18000, 0.005, 0.1);
    public static readonly SurveyFormulas Formulas = new((t, s, z) => 1449 + 4.6 * t + 1.3 * (s - 35) + 0.016 * z, name => name == "fine sand" ? new Sediment(1700, 1900, 0.5, name) : null, ["fine sand", "mud"], epsg => epsg is 32631 or 25831);
    private readonly TestFolder _folder = new();

    public SmallSurvey(bool sweep = true)
    {
        WriteJson("""{ "crs": "EPSG:32631", "waveform": { "kind": "linear_chirp", "start_hz": 4000, "end_hz": 18000, "duration_s": 0.005, "taper_fraction": 0.1 } }""");
        foreach (MemoryLine line in Lines)
            SurveyFolderWriter.WriteRecording(Path, line, sweep ? Chirp : null);
    }

    public IReadOnlyList<MemoryLine> Lines { get; } = [new("line-1.sgy", Pings, Receivers, Samples), new("line-2.sgy", Pings, Receivers, Samples, 500010)];

    public string Path => _folder.Path;

    public string this[string name] => System.IO.Path.Combine(Path, name);

    public SurveyFolder Open() => SurveyFolder.Open(Path, Formulas);

    public void WriteJson(string text) => File.WriteAllText(this["survey.json"], text);

    /// <summary>Writes navigation, lever arms and exact times, and takes coordinates out of the headers.</summary>
    public void Navigate(bool pings = true)
    {
        string[] rows = [.. Enumerable.Range(-1, 6).Select(s => $"{NodaTime.Text.InstantPattern.ExtendedIso.Format(MemoryLine.Start + Duration.FromSeconds(s))},500000,{5761000 + s},10,0,0,0")];
        File.WriteAllLines(this["navigation.csv"], ["time_utc,easting,northing,depth_m,heading_deg,roll_deg,pitch_deg", .. rows]);
        File.WriteAllText(this["array.json"], """{ "sources": [[0, 0, 0.5]], "receivers": [[0, 0.1, 0.4], [0, 0.2, 0.4], [0, 0.3, 0.4], [0, 0.4, 0.4]] }""");
        if (pings)
            SurveyFolderWriter.WritePings(Path, Lines);
        foreach (MemoryLine line in Lines)
            EachTrace(line.Name, trace => trace.Slice(72, 16).Clear());
    }

    public static int HeaderOf(int ping, int receiver) => 3600 + (ping * Receivers + receiver) * TraceSize;

    public void EachTrace(string file, SpanAction change) => Change(file, bytes =>
    {
        for (int at = 3600; at + TraceSize <= bytes.Length; at += TraceSize)
            change(bytes.AsSpan(at, TraceSize));
    });

    public delegate void SpanAction(Span<byte> trace);

    public void Change(string file, Action<byte[]> change)
    {
        byte[] bytes = File.ReadAllBytes(this[file]);
        change(bytes);
        File.WriteAllBytes(this[file], bytes);
    }

    /// <summary>Writes a big-endian number at a byte number of a header that starts at an offset.</summary>
    public static void Put16(Span<byte> bytes, int header, int number, int value) => BinaryPrimitives.WriteInt16BigEndian(bytes[(header + number - 1)..], (short)value);

    public static void Put32(Span<byte> bytes, int header, int number, int value) => BinaryPrimitives.WriteInt32BigEndian(bytes[(header + number - 1)..], value);

    public void Cut(string file, int bytes) => File.WriteAllBytes(this[file], File.ReadAllBytes(this[file])[..^bytes]);

    public void Dispose() => _folder.Dispose();
}
