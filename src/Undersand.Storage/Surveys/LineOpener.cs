using NodaTime;
using Undersand.Positioning;
using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Opens one recording as a line, with all checks that don't need the others.</summary>
internal sealed class LineOpener(string folder, NavigationTrack? track, ArrayDescription? array, PingsCsv? pings, List<Caution> cautions, List<Assumption> assumptions, int lines = 1)
{
    /// <summary>A longer time between navigation rows around a ping is worth a caution. Common practice, no source.</summary>
    private static readonly Duration LongGap = Duration.FromSeconds(5);

    /// <param name="name">The recording's file name.</param>
    /// <param name="layout">Receives how the file is laid out.</param>
    public SegyLine Open(string name, out SegyLayout layout)
    {
        SegyFile file = SegyFile.Open(Path.Combine(folder, name), name);
        try
        {
            layout = file.Layout;
            foreach (string remark in layout.Remarks)
                cautions.Add(new Caution(name, char.ToUpperInvariant(remark[0]) + remark[1..] + "."));
            return Open(file);
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private SegyLine Open(SegyFile file)
    {
        LineIndex index = IndexOf(file, cautions);
        if (track is null)
            CheckHeaderPositions(file, index, cautions);
        else
            CheckArray(file, index);
        Instant[] times = new LineTimes(file, index, pings, track, cautions).Settle();
        if (track is not null)
            CheckNavigation(file, index, times);
        float offset = new SampleCheck(file, index, cautions).FindOffset();
        ReadOnlyMemory<float>? replica = ReplicaReader.Read(file, index.Replicas, cautions);
        if (file.Layout.CorrelatedFlag is not (1 or 2))
            assumptions.Add(new Assumption($"correlation of {file.Name}", "raw, not yet correlated", "bytes 3249–3250 don't say"));
        return new SegyLine(file, index, times, track, array, offset, file.Layout.CorrelatedFlag == 2, replica, SegyLine.ReceiversKept / lines);
    }

    /// <summary>Groups the traces into pings; refuses a file whose traces can't be found or that was cut.</summary>
    internal static LineIndex IndexOf(SegyFile file, List<Caution> cautions)
    {
        if (file.Layout.HeadersDisagree)
            throw new SurveyException(file.Name, "bytes 3221–3222", $"with {file.Layout.Samples} samples a trace, trace headers are not where they must be", "write the right number of samples, or copy the file again");
        LineIndex index = new LineIndexBuilder(file, cautions).Build();
        RefuseTruncation(file, index);
        return index;
    }

    /// <summary>A last trace that is short belongs to a ping that is whole otherwise; where receivers lack as well the file was cut.</summary>
    private static void RefuseTruncation(SegyFile file, LineIndex index)
    {
        if (file.Layout.LastTraceLacks == 0 || index.ReceiverCount == 1)
            return;
        int last = file.Layout.Traces - 1, at = Array.IndexOf(index.TraceOf, last);
        if (at < 0)
            return;
        int ping = at / index.ReceiverCount;
        if (index.TraceOf.AsSpan(ping * index.ReceiverCount, index.ReceiverCount).Contains(LineIndex.Missing))
            throw new SurveyException(file.Name, $"trace {last + 1}", $"the file is truncated: its last ping, {index.Numbers[ping]}, lacks receivers and the last trace lacks {file.Layout.LastTraceLacks} samples", "copy it again from where it was recorded");
    }

    /// <summary>Refuses positions that can't be used without navigation.csv.</summary>
    internal static void CheckHeaderPositions(SegyFile file, LineIndex index, List<Caution> cautions)
    {
        int recorded = index.TraceOf.Count(trace => trace != LineIndex.Missing);
        if (index.WithoutCoordinates >= recorded)
            throw new SurveyException(file.Name, "bytes 73–88", "all coordinates are zero", "write eastings and northings there, or give navigation.csv and array.json");
        if (index.WithoutCoordinates > 0)
            cautions.Add(new Caution(file.Name, "Traces have no coordinates (bytes 73–88 are zero) and were left out.", index.WithoutCoordinates));
        int trace = index.AnyTraceOf(0);
        SegyTraceHeader header = file.HeaderOf(trace);
        if (header.CoordinateUnits is 2 or 3 or 4)
            throw new SurveyException(file.Name, $"trace {trace + 1}, bytes 89–90", "coordinates are geographic", "write eastings and northings in the survey's reference system in metres, with unit 1");
        if (header.ReceiverElevation > 0)
            throw new SurveyException(file.Name, $"trace {trace + 1}, bytes 41–44", $"the receiver's elevation of {header.ReceiverElevation} m is above the water surface", "write elevations below the surface as negative numbers");
        if (header.SourceDepth > 0 && header.ReceiverElevation == 0)
            cautions.Add(new Caution(file.Name, $"Receivers are at the surface (bytes 41–44 are zero) but the source is {header.SourceDepth} m deep."));
    }

    private void CheckArray(SegyFile file, LineIndex index)
    {
        if (index.ReceiverNumbers[^1] > array!.Receivers.Count)
            throw new SurveyException(ArrayJson.FileName, "receivers", $"lever arms are given for {array.Receivers.Count} of the receivers, but {file.Name} has a receiver {index.ReceiverNumbers[^1]}", "add the missing lever arms, in the order of the receivers' numbers");
    }

    private void CheckNavigation(SegyFile file, LineIndex index, Instant[] times)
    {
        for (int i = 0; i < times.Length; i++)
        {
            if (track!.Encloses(times[i]))
                continue;
            throw times[i] < track.Start
                ? new SurveyException(NavigationCsv.FileName, "line 2", $"navigation starts at {UtcTime.Format(track.Start)}, but ping {index.Numbers[i]} of {file.Name} was at {UtcTime.Format(times[i])}", "add rows that enclose every ping")
                : new SurveyException(NavigationCsv.FileName, "last line", $"navigation ends at {UtcTime.Format(track.End)}, but ping {index.Numbers[i]} of {file.Name} was at {UtcTime.Format(times[i])}", "add rows that enclose every ping");
        }
        int gaps = times.Count(time => track!.GapAt(time) > LongGap);
        if (gaps > 0)
            cautions.Add(new Caution(file.Name, $"Pings lie in gaps of navigation.csv of up to {times.Max(time => track!.GapAt(time).TotalSeconds):0} s; their positions were interpolated across.", gaps));
    }
}
