namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>A line with something changed: its name, its pings, its samples, its replica.</summary>
internal sealed class ChangedLine(ISurveyLine line) : ISurveyLine
{
    private readonly int[] _kept = [.. Enumerable.Range(0, line.PingCount)];

    public string Name { get; init; } = line.Name;

    /// <summary>Indices of the pings that are left.</summary>
    public IReadOnlyList<int> Kept { get => _kept; init => _kept = [.. value]; }

    public int PingCount => _kept.Length;

    public int SampleCount { get; init; } = line.SampleCount;

    public double SampleInterval => line.SampleInterval;

    public bool IsCorrelated { get; init; }

    public ReadOnlyMemory<float>? Replica { get; init; }

    /// <summary>What becomes of a ping.</summary>
    public Func<Ping, Ping> ChangePing { get; init; } = p => p;

    /// <summary>What becomes of a ping's samples, of all receivers together, as recorded.</summary>
    public Func<float[], Ping, float[]> ChangeSamples { get; init; } = (s, _) => s;

    public Ping PingAt(int pingIndex) => ChangePing(line.PingAt(_kept[pingIndex]));

    public void Read(int pingIndex, Span<float> samples)
    {
        Ping ping = line.PingAt(_kept[pingIndex]);
        float[] recorded = new float[ping.Receivers.Count * line.SampleCount];
        line.Read(_kept[pingIndex], recorded);
        ChangeSamples(recorded, ping).CopyTo(samples);
    }
}
