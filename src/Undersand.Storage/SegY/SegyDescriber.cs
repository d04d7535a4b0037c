using NodaTime;
using Undersand.Storage.Surveys;

namespace Undersand.Storage.SegY;

/// <summary>Reads any SEG-Y file through to say what is in it: every trace header, and the samples of some hundreds of traces.</summary>
public static class SegyDescriber
{
    private const int TextBytes = 3200, TextLine = 80, MostTracesSampled = 512;

    /// <param name="path">The file, as the user named it.</param>
    /// <param name="advance">Hears of the traces read.</param>
    /// <param name="cancellation">Stops between traces.</param>
    /// <exception cref="SurveyException">The file can't be opened, is no SEG-Y file, or is broken.</exception>
    public static SegyDescription Describe(string path, Action<int> advance, CancellationToken cancellation)
    {
        using SegyFile file = SegyFile.Open(path);
        SegyLayout layout = file.Layout;
        var headers = new HeaderTally();
        for (int trace = 0; trace < layout.Traces; trace++)
        {
            cancellation.ThrowIfCancellationRequested();
            headers.Take(file.HeaderOf(trace));
            advance(1);
        }
        return Join(file, headers, SampleTally.Of(file, MostTracesSampled, cancellation), TextOf(path));
    }

    private static SegyDescription Join(SegyFile file, HeaderTally headers, SampleTally samples, IReadOnlyList<string> text) => new()
    {
        Name = file.Name,
        Bytes = file.Length,
        Text = text,
        Revision = $"{file.Layout.Revision.Major}.{file.Layout.Revision.Minor}",
        ByteOrder = file.Layout.ByteOrder switch
        {
            SegyByteOrder.BigEndian => "big-endian",
            SegyByteOrder.LittleEndian => "little-endian",
            _ => "pairwise byte-swapped",
        },
        FormatCode = file.Layout.FormatCode,
        Format = SegyFormats.NameOf(file.Layout.Format),
        ExtraTraceHeaders = file.Layout.ExtraTraceHeaders,
        Traces = file.Layout.Traces,
        Pings = headers.Pings.Count,
        Receivers = headers.Receivers.Count,
        DeadTraces = headers.Dead,
        ReplicaTraces = headers.Replicas,
        Samples = file.Layout.Samples,
        Interval = file.Layout.Interval,
        Sweep = file.Layout.Sweep,
        CorrelatedFlag = file.Layout.CorrelatedFlag,
        Delay = headers.Delay,
        SourceEasting = headers.Easting,
        SourceNorthing = headers.Northing,
        SourceDepth = headers.Depth,
        ReceiverElevation = headers.Elevation,
        Earliest = headers.Earliest == long.MaxValue ? null : Instant.FromUnixTimeSeconds(headers.Earliest),
        Latest = headers.Latest == long.MinValue ? null : Instant.FromUnixTimeSeconds(headers.Latest),
        TracesSampled = samples.Traces,
        Amplitude = samples.Range,
        RootMeanSquare = samples.Count > 0 ? Math.Sqrt(samples.SumOfSquares / samples.Count) : 0,
        SilentTraces = samples.Silent,
        NotFiniteTraces = samples.NotFinite,
        Remarks = file.Layout.Remarks,
    };

    private static List<string> TextOf(string path)
    {
        byte[] block = new byte[TextBytes];
        using FileStream stream = File.OpenRead(path);
        int read = stream.ReadAtLeast(block, TextBytes, throwOnEndOfStream: false);
        string text = SegyText.Decode(block.AsSpan(0, read));
        return [.. text.Chunk(TextLine).Select(line => new string(line).TrimEnd()).Where(line => line.Length > 3)];
    }

    private sealed class HeaderTally
    {
        public HashSet<int> Pings { get; } = [];
        public HashSet<int> Receivers { get; } = [];
        public int Dead { get; private set; }
        public int Replicas { get; private set; }
        public SegyRange Delay { get; private set; } = SegyRange.Empty;
        public SegyRange Easting { get; private set; } = SegyRange.Empty;
        public SegyRange Northing { get; private set; } = SegyRange.Empty;
        public SegyRange Depth { get; private set; } = SegyRange.Empty;
        public SegyRange Elevation { get; private set; } = SegyRange.Empty;
        public long Earliest { get; private set; } = long.MaxValue;
        public long Latest { get; private set; } = long.MinValue;

        public void Take(SegyTraceHeader header)
        {
            if (header.IsReplica)
            {
                Replicas++;
                return;
            }
            Pings.Add(header.Ping);
            Receivers.Add(header.Receiver);
            Dead += header.IsLive ? 0 : 1;
            Delay = Delay.With(header.Delay);
            Easting = Easting.With(header.SourceX);
            Northing = Northing.With(header.SourceY);
            Depth = Depth.With(header.SourceDepth);
            Elevation = Elevation.With(header.ReceiverElevation);
            if (HeaderTime.Seconds(header) is var time && time != long.MinValue)
                (Earliest, Latest) = (Math.Min(Earliest, time), Math.Max(Latest, time));
        }
    }

    private sealed class SampleTally
    {
        public int Traces { get; private set; }
        public int Silent { get; private set; }
        public int NotFinite { get; private set; }
        public long Count { get; private set; }
        public double SumOfSquares { get; private set; }
        public SegyRange Range { get; private set; } = SegyRange.Empty;

        public static SampleTally Of(SegyFile file, int most, CancellationToken cancellation)
        {
            var tally = new SampleTally();
            int traces = file.Layout.Traces, count = Math.Min(traces, most);
            float[] samples = new float[file.Layout.Samples];
            for (int i = 0; i < count; i++)
            {
                cancellation.ThrowIfCancellationRequested();
                int trace = (int)((long)i * traces / count);
                file.Read(trace, samples);
                tally.Take(samples.AsSpan(0, file.Layout.SamplesOf(trace)));
            }
            return tally;
        }

        private void Take(ReadOnlySpan<float> samples)
        {
            bool silent = true, finite = true;
            foreach (float sample in samples)
            {
                silent &= sample == 0;
                if (!float.IsFinite(sample))
                {
                    finite = false;
                    continue;
                }
                Range = Range.With(sample);
                SumOfSquares += (double)sample * sample;
                Count++;
            }
            Traces++;
            Silent += silent ? 1 : 0;
            NotFinite += finite ? 0 : 1;
        }
    }
}
