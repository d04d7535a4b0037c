using NodaTime;
using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>What is in a SEG-Y file: a page for somebody who meets it for the first time.</summary>
/// <param name="File">The file, as the user named it.</param>
/// <param name="Bytes">Its size.</param>
/// <param name="Facts">What was found, each with its name.</param>
/// <param name="Remarks">What looks wrong but can be lived with, in sentences.</param>
/// <param name="Verdict">The sentence with which processing would refuse it, or null if it could be a survey line.</param>
public sealed record SegyInspection(string File, long Bytes, IReadOnlyList<(string Name, string Value)> Facts, IReadOnlyList<string> Remarks, string? Verdict)
{
    private const int TracesMeasured = 5;

    /// <summary>Looks into a file: all headers, a few traces.</summary>
    /// <param name="path">Any SEG-Y file.</param>
    /// <exception cref="SurveyException">There is no such file, it can't be read, it is no SEG-Y file, or so broken that there is nothing to say.</exception>
    public static SegyInspection Of(string path)
    {
        if (!System.IO.File.Exists(path))
            throw new SurveyException(path, null, Directory.Exists(path) ? "this is a folder" : "there is no such file", "name a SEG-Y file");
        long bytes = new FileInfo(path).Length;
        var facts = new List<(string, string)>();
        var cautions = new List<Caution>();
        string? verdict = null;
        var remarks = new List<string>();
        try
        {
            using SegyFile file = SegyFile.Open(path, path);
            remarks.AddRange(file.Layout.Remarks.Select(Sentence));
            DescribeFile(file.Layout, facts);
            DescribeTraces(file, facts);
            DescribeSamples(file, facts);
            verdict = Judge(file, facts, cautions);
        }
        catch (SurveyException refusal) when (facts.Count > 0)
        {
            verdict = refusal.Message;
        }
        remarks.AddRange(cautions.Select(caution => caution.Count == 1 ? caution.Text : $"{caution.Text} ({caution.Count} times)"));
        return new SegyInspection(path, bytes, facts, remarks, verdict);
    }

    /// <summary>The page, line by line.</summary>
    public IReadOnlyList<string> ToLines()
    {
        int width = Facts.Count == 0 ? 0 : Facts.Max(fact => fact.Name.Length);
        var lines = new List<string> { $"{File}: {Bytes} bytes", "" };
        lines.AddRange(Facts.Select(fact => $"  {fact.Name.PadRight(width)}  {fact.Value}"));
        if (Remarks.Count > 0)
            lines.AddRange(["", "What looks wrong:", .. Remarks.Select(remark => "  - " + remark)]);
        lines.AddRange(["", Verdict is null ? "Usable as a survey line, if survey.json gives what it doesn't say." : "Not usable: " + Verdict]);
        return lines;
    }

    private static string Sentence(string remark) => char.ToUpperInvariant(remark[0]) + remark[1..] + ".";

    private static void DescribeFile(SegyLayout layout, List<(string, string)> facts)
    {
        facts.Add(("revision", $"{layout.Revision.Major}.{layout.Revision.Minor}"));
        facts.Add(("byte order", layout.ByteOrder switch { SegyByteOrder.BigEndian => "big-endian", SegyByteOrder.LittleEndian => "little-endian", _ => "big-endian with swapped pairs" }));
        string lies = (int)layout.Format == layout.FormatCode ? "" : $", though the header says {layout.FormatCode}";
        facts.Add(("sample format", $"{(int)layout.Format}: {SegyFormats.NameOf(layout.Format)}{lies}"));
        facts.Add(("traces", $"{layout.Traces}"));
        facts.Add(("samples a trace", layout.Starts is null ? $"{layout.Samples}" : $"up to {layout.Samples}"));
        facts.Add(("sample interval", $"{layout.Interval * 1e6:0.######} µs ({1e-3 / layout.Interval:0.###} kHz)"));
        facts.Add(("length of a trace", $"{layout.Samples * layout.Interval * 1e3:0.###} ms"));
        facts.Add(("extended text headers", $"{layout.ExtendedTextHeaders}"));
        facts.Add(("extra trace headers", $"{layout.ExtraTraceHeaders}"));
        facts.Add(("sweep", layout.Sweep is { } s ? $"{s.StartFrequency:0.#} to {s.EndFrequency:0.#} Hz in {s.Duration * 1e3:0.###} ms, taper {(s.TaperFraction > 0 ? $"{s.TaperFraction:0.###}" : "not said")}" : "not said"));
        facts.Add(("correlated", layout.CorrelatedFlag switch { 1 => "no", 2 => "yes", _ => "not said" }));
    }

    private static void DescribeTraces(SegyFile file, List<(string, string)> facts)
    {
        double west = double.MaxValue, east = double.MinValue, south = double.MaxValue, north = double.MinValue, shallow = double.MaxValue, deep = double.MinValue;
        long start = long.MaxValue, end = long.MinValue;
        var kinds = new SortedDictionary<int, int>();
        for (int i = 0; i < file.Layout.Traces; i++)
        {
            SegyTraceHeader h = file.HeaderOf(i);
            kinds[h.Kind] = kinds.GetValueOrDefault(h.Kind) + 1;
            if (HeaderTime.Seconds(h) is var seconds && seconds != long.MinValue)
                (start, end) = (Math.Min(start, seconds), Math.Max(end, seconds));
            if (h.SourceX == 0 && h.SourceY == 0)
                continue;
            (west, east) = (Math.Min(west, h.SourceX), Math.Max(east, h.SourceX));
            (south, north) = (Math.Min(south, h.SourceY), Math.Max(north, h.SourceY));
            (shallow, deep) = (Math.Min(shallow, h.SourceDepth), Math.Max(deep, h.SourceDepth));
        }
        facts.Add(("kinds of traces", string.Join(", ", kinds.Select(kind => $"{kind.Value} {NameOfKind(kind.Key)}"))));
        SegyTraceHeader first = file.HeaderOf(0);
        facts.Add(("delay of trace 1", $"{first.Delay * 1e3:0.###} ms"));
        bool placed = west <= east;
        facts.Add(("source easting", placed ? $"{west:0.###} to {east:0.###}" : "not said"));
        facts.Add(("source northing", placed ? $"{south:0.###} to {north:0.###}" : "not said"));
        facts.Add(("source depth", placed ? $"{shallow:0.###} to {deep:0.###} m" : "not said"));
        facts.Add(("times, UTC", start <= end ? $"{UtcTime.Format(Instant.FromUnixTimeSeconds(start))} to {UtcTime.Format(Instant.FromUnixTimeSeconds(end))}" : "not said"));
    }

    private static string NameOfKind(int kind) => kind switch { 1 => "live", 2 => "dead", 3 => "dummy", 6 => "replica", 0 => "not said", _ => $"of kind {kind}" };

    private static void DescribeSamples(SegyFile file, List<(string, string)> facts)
    {
        float[] samples = new float[file.Layout.Samples];
        int count = Math.Min(TracesMeasured, file.Layout.Traces);
        for (int i = 0; i < count; i++)
        {
            int trace = count == 1 ? 0 : (int)((long)i * (file.Layout.Traces - 1) / (count - 1));
            file.Read(trace, samples);
            double squares = samples.Sum(x => (double)x * x);
            facts.Add(($"samples of trace {trace + 1}", $"{samples.Min():G5} to {samples.Max():G5}, root mean square {Math.Sqrt(squares / samples.Length):G5}"));
        }
    }

    /// <summary>What opening it as a survey line would say, without the survey's own files.</summary>
    private static string? Judge(SegyFile file, List<(string, string)> facts, List<Caution> cautions)
    {
        try
        {
            LineIndex index = LineOpener.IndexOf(file, cautions);
            facts.Add(("pings", $"{index.PingCount}, numbers {index.Numbers.Min()} to {index.Numbers.Max()}"));
            facts.Add(("receivers a ping", $"{index.ReceiverCount}, numbers {index.ReceiverNumbers[0]} to {index.ReceiverNumbers[^1]}"));
            new SampleCheck(file, index, cautions).FindOffset();
            LineOpener.CheckHeaderPositions(file, index, cautions);
            new LineTimes(file, index, null, null, cautions).Settle();
            return null;
        }
        catch (SurveyException refusal)
        {
            return refusal.Message;
        }
    }
}
