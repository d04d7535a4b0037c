namespace Undersand.Imaging.Conditioning;

/// <summary>Conditioned traces of a run of pings.</summary>
/// <param name="Traces">Ping and receiver index of each.</param>
/// <param name="StartTimes">Seconds from transmission to each one's first sample.</param>
/// <param name="SampleCount">Complex samples of each.</param>
/// <param name="Samples">Real and imaginary in turn, trace by trace.</param>
public sealed record ConditionedBlock((int Ping, int Receiver)[] Traces, double[] StartTimes, int SampleCount, float[] Samples);
