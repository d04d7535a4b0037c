using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Reads the recorded replica of the transmitted waveform (bytes 29–30 = 6), from the start of transmission to its last sample that isn't zero.</summary>
internal static class ReplicaReader
{
    public static ReadOnlyMemory<float>? Read(SegyFile file, IReadOnlyList<int> traces, List<Caution> cautions)
    {
        foreach (int trace in traces)
        {
            float[] samples = new float[file.Layout.Samples];
            file.Read(trace, samples);
            SampleValues.RefuseNonFinite(samples, file.Name, trace);
            int length = samples.AsSpan().LastIndexOfAnyExcept(0f) + 1;
            if (length == 0)
                continue;
            SegyTraceHeader header = file.HeaderOf(trace);
            double late = header.Delay / file.Layout.Interval;
            int padding = (int)Math.Round(late);
            if (padding < 0 || Math.Abs(late - padding) > 0.01 || padding > samples.Length)
                throw new SurveyException(file.Name, $"trace {trace + 1}, bytes 109–110", $"the replica's delay of {header.Delay} s is not a whole number of samples", "record the replica from the start of transmission");
            if (traces.Count > 1)
                cautions.Add(new Caution(file.Name, $"There are {traces.Count} replica traces; trace {trace + 1} was taken."));
            float[] replica = new float[padding + length];
            samples.AsSpan(0, length).CopyTo(replica.AsSpan(padding));
            return replica;
        }
        if (traces.Count > 0)
            cautions.Add(new Caution(file.Name, "The replica trace holds only zeros and was ignored.", traces.Count));
        return null;
    }
}
