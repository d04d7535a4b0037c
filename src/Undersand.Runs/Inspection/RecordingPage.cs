using NodaTime;
using Undersand.Storage.SegY;

namespace Undersand.Runs.Inspection;

/// <summary>A page about a recording, in plain text: what <c>inspect</c> prints.</summary>
internal static class RecordingPage
{
    private const int LabelWidth = 20, MostTextLines = 12;

    /// <summary>The page, line by line.</summary>
    public static IReadOnlyList<string> Lines(SegyDescription file)
    {
        List<string> lines = [file.Name, ""];
        void Say(string label, string value) => lines.Add(label.PadRight(LabelWidth) + value);

        Say("Size", $"{file.Bytes:#,0} bytes");
        Say("SEG-Y", $"revision {file.Revision}, {file.ByteOrder}" + (file.ExtraTraceHeaders > 0 ? $", {Count(file.ExtraTraceHeaders, "extra trace header")}" : ""));
        Say("Samples stored as", $"{file.Format} (code {file.FormatCode} in the header)");
        Say("Traces", $"{file.Traces:#,0}: {Count(file.Pings, "ping number")}, {Count(file.Receivers, "receiver number")}, {file.DeadTraces:#,0} dead, {Count(file.ReplicaTraces, "recorded replica")}");
        Say("Trace", TraceLength(file));
        Say("First sample", Range(file.Delay, 1e3, "0.###", "ms after the transmission starts"));
        Say("Transmitted", Sweep(file));
        Say("Time (UTC)", Times(file.Earliest, file.Latest));
        Say("Source easting", Range(file.SourceEasting, 1, "0.###", "m"));
        Say("Source northing", Range(file.SourceNorthing, 1, "0.###", "m"));
        Say("Source depth", Range(file.SourceDepth, 1, "0.###", "m"));
        Say("Receiver elevation", Range(file.ReceiverElevation, 1, "0.###", "m"));
        Say("Amplitude", $"{Range(file.Amplitude, 1, "0.######", "")} root mean square {Number(file.RootMeanSquare, "0.######")} (over {file.TracesSampled:#,0} traces)");
        AddFindings(lines, file);
        AddText(lines, file);
        return lines;
    }

    /// <summary>What a person should know before processing the file, each a sentence; empty where nothing stands out.</summary>
    public static IEnumerable<string> Findings(SegyDescription file)
    {
        foreach (string remark in file.Remarks)
            yield return remark;
        if (file.Interval <= 0)
            yield return "The headers give no sample interval.";
        if (IsZero(file.SourceEasting) && IsZero(file.SourceNorthing))
            yield return "All source coordinates are zero: give navigation.csv and array.json.";
        if (file.Earliest is null)
            yield return "No trace says when it was recorded (bytes 157–166).";
        if (file.NotFiniteTraces > 0)
            yield return $"{file.NotFiniteTraces:#,0} of {file.TracesSampled:#,0} traces looked at hold samples that are no numbers.";
        if (file.SilentTraces > 0)
            yield return $"{file.SilentTraces:#,0} of {file.TracesSampled:#,0} traces looked at hold only zeros.";
        if (!double.IsNaN(file.Amplitude.Least) && file.Amplitude.Least >= 0 && file.Amplitude.Greatest > 0)
            yield return "No sample is negative: if these are envelopes, their phase is lost and they can't be imaged.";
        if (file.Sweep is null && file.ReplicaTraces == 0)
            yield return "Neither a sweep nor a recorded replica is given: survey.json must give the waveform.";
        if (file.CorrelatedFlag is not (1 or 2))
            yield return "Whether the traces are correlated isn't said (bytes 3249–3250).";
    }

    private static void AddFindings(List<string> lines, SegyDescription file)
    {
        List<string> findings = [.. Findings(file)];
        lines.Add("");
        lines.Add(findings.Count == 0 ? "Nothing stands out." : "To know before processing:");
        lines.AddRange(findings.Select(finding => "- " + finding));
    }

    private static void AddText(List<string> lines, SegyDescription file)
    {
        if (file.Text.Count == 0)
            return;
        lines.Add("");
        lines.Add(file.Text.Count > MostTextLines ? $"Text header (its first {MostTextLines} of {file.Text.Count} lines):" : "Text header:");
        lines.AddRange(file.Text.Take(MostTextLines).Select(line => "  " + line));
    }

    private static string TraceLength(SegyDescription file) => file.Interval > 0
        ? $"{file.Samples:#,0} samples, {file.Interval * 1e6:0.###} µs apart ({1 / file.Interval:#,0} Hz): {file.Samples * file.Interval * 1e3:#,0.##} ms"
        : $"{file.Samples:#,0} samples, interval not given";

    private static string Sweep(SegyDescription file)
    {
        string sweep = file.Sweep is { } s ? $"{s.StartFrequency:#,0} to {s.EndFrequency:#,0} Hz in {s.Duration * 1e3:0.##} ms" : "not said";
        return sweep + file.CorrelatedFlag switch { 1 => "; traces not correlated", 2 => "; traces correlated already", _ => "" };
    }

    private static string Times(Instant? earliest, Instant? latest) => (earliest, latest) switch
    {
        (null, _) or (_, null) => "not said",
        var (from, to) when from == to => $"{from}",
        var (from, to) => $"{from} to {to}",
    };

    private static string Range(SegyRange range, double factor, string format, string unit)
    {
        if (double.IsNaN(range.Least))
            return "not said";
        string least = Number(range.Least * factor, format), greatest = Number(range.Greatest * factor, format);
        return (least == greatest ? least : $"{least} to {greatest}") + (unit.Length > 0 ? " " + unit : ",");
    }

    private static string Number(double value, string format) =>
        value != 0 && Math.Abs(value) is < 1e-4 or > 1e9 ? value.ToString("0.###e+0") : value.ToString(format);

    private static string Count(int count, string what) => $"{count:#,0} {what}{(count == 1 ? "" : "s")}";

    private static bool IsZero(SegyRange range) => range is { Least: 0, Greatest: 0 };
}
