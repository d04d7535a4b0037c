namespace Undersand.Simulation;

/// <summary>A simulated recording, held in memory.</summary>
internal sealed class SimulatedLine(string name, IReadOnlyList<Ping> pings, int sampleCount, double sampleInterval, float[][] samples) : ISurveyLine
{
    public string Name => name;

    public int PingCount => pings.Count;

    public int SampleCount => sampleCount;

    public double SampleInterval => sampleInterval;

    public bool IsCorrelated => false;

    public ReadOnlyMemory<float>? Replica => null;

    public Ping PingAt(int pingIndex) => pings[pingIndex];

    public void Read(int pingIndex, Span<float> destination) => samples[pingIndex].AsSpan().CopyTo(destination);
}
