namespace Undersand.Tests.Imaging;

/// <summary>A line in memory, whose pings and samples a test may change.</summary>
internal sealed class MemoryLine(string name, Ping[] pings, int sampleCount, double sampleInterval, float[][] samples) : ISurveyLine
{
    public string Name => name;
    public int PingCount => pings.Length;
    public int SampleCount => sampleCount;
    public double SampleInterval => sampleInterval;
    public bool IsCorrelated { get; init; }
    public ReadOnlyMemory<float>? Replica { get; init; }
    public Ping[] Pings => pings;
    public float[][] Samples => samples;

    public static MemoryLine Of(ISurveyLine line)
    {
        var pings = Enumerable.Range(0, line.PingCount).Select(line.PingAt).ToArray();
        var samples = pings.Select((ping, p) =>
        {
            var all = new float[ping.Receivers.Count * line.SampleCount];
            line.Read(p, all);
            return all;
        }).ToArray();
        return new MemoryLine(line.Name, pings, line.SampleCount, line.SampleInterval, samples) { IsCorrelated = line.IsCorrelated, Replica = line.Replica };
    }

    public Ping PingAt(int pingIndex) => pings[pingIndex];

    public void Read(int pingIndex, Span<float> into) => samples[pingIndex].CopyTo(into);

    public Span<float> Trace(int ping, int receiver) => samples[ping].AsSpan(receiver * sampleCount, sampleCount);
}
