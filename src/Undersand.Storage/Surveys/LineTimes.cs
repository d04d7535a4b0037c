using NodaTime;
using Undersand.Positioning;
using Undersand.Storage.SegY;

namespace Undersand.Storage.Surveys;

/// <summary>Settles when each ping of a line was: pings.csv, else headers with nanoseconds, else whole seconds with what that costs.</summary>
internal sealed class LineTimes(SegyFile file, LineIndex index, PingsCsv? pings, NavigationTrack? track, List<Caution> cautions)
{
    /// <summary>A position error along the track that makes the recording worthless where navigation.csv gives the positions, metres. Our own choice, no source.</summary>
    private const double WorthlessError = 0.5;

    /// <summary>Times of the pings, not falling.</summary>
    public Instant[] Settle()
    {
        Instant[] times = pings is null ? FromHeaders() : FromPings(pings);
        for (int i = 1; i < times.Length; i++)
            if (times[i] < times[i - 1])
                throw Backwards(times, i);
        return times;
    }

    private SurveyException Backwards(Instant[] times, int i)
    {
        string wrong = $"the time goes backwards from ping {index.Numbers[i - 1]} ({UtcTime.Format(times[i - 1])}) to ping {index.Numbers[i]} ({UtcTime.Format(times[i])})";
        return pings?.Find(file.Name, index.Numbers[i], index.Occurrences[i]) is { } row
            ? new SurveyException(PingsCsv.FileName, $"line {row.Line}", wrong, "write times that rise with the pings of a recording")
            : new SurveyException(file.Name, $"trace {index.AnyTraceOf(i) + 1}, bytes 157–166", wrong, "write the right times, or give them in pings.csv");
    }

    private Instant[] FromPings(PingsCsv table)
    {
        if (table.CountOf(file.Name) == 0)
            throw new SurveyException(PingsCsv.FileName, null, $"the recording {file.Name} is not listed", "list every ping that was recorded, or remove pings.csv");
        if (table.CountOf(file.Name) > index.PingCount)
            cautions.Add(new Caution(PingsCsv.FileName, $"Pings are listed for {file.Name} that it doesn't have.", table.CountOf(file.Name) - index.PingCount));
        var times = new Instant[index.PingCount];
        for (int i = 0; i < times.Length; i++)
        {
            (Instant time, int line) = table.Find(file.Name, index.Numbers[i], index.Occurrences[i])
                ?? throw new SurveyException(PingsCsv.FileName, null, $"ping {index.Numbers[i]} of {file.Name} is not listed", "list every ping that was recorded, or remove pings.csv");
            if (index.Seconds[i] != long.MinValue && (time - Instant.FromUnixTimeSeconds(index.Seconds[i])).TotalSeconds is < -1 or > 1)
                throw new SurveyException(PingsCsv.FileName, $"line {line}", $"ping {index.Numbers[i]} has the time {UtcTime.Format(time)}, but trace {index.AnyTraceOf(i) + 1} of {file.Name}, bytes 157–166, says {UtcTime.Format(Instant.FromUnixTimeSeconds(index.Seconds[i]))}", "make both agree to within a second");
            times[i] = time;
        }
        return times;
    }

    private Instant[] FromHeaders()
    {
        int without = index.Seconds.Count(s => s == long.MinValue);
        if (without > 0 && track is not null)
        {
            int ping = Array.IndexOf(index.Seconds, long.MinValue);
            throw new SurveyException(file.Name, $"trace {index.AnyTraceOf(ping) + 1}, bytes 157–166", $"ping {index.Numbers[ping]} has no time, so navigation.csv can't place it", "write the times, or give them in pings.csv");
        }
        if (without > 0)
            return WithGaps(without);
        if (index.Nanoseconds.Any(n => n > 0))
            return [.. index.Seconds.Select((s, i) => Instant.FromUnixTimeSeconds(s).PlusNanoseconds(Math.Max(0, index.Nanoseconds[i])))];
        return track is null ? [.. index.Seconds.Select(Instant.FromUnixTimeSeconds)] : FromWholeSeconds(track);
    }

    private Instant[] WithGaps(int without)
    {
        cautions.Add(new Caution(file.Name, "Pings have no time (bytes 157–166); that of the ping before was taken, or 1970 where no ping has one.", without));
        var times = new Instant[index.PingCount];
        long last = Math.Max(0, Array.Find(index.Seconds, s => s != long.MinValue));
        for (int i = 0; i < times.Length; i++)
            times[i] = Instant.FromUnixTimeSeconds(last = index.Seconds[i] == long.MinValue ? last : index.Seconds[i]);
        return times;
    }

    private Instant[] FromWholeSeconds(NavigationTrack way)
    {
        Instant[] whole = [.. index.Seconds.Select(Instant.FromUnixTimeSeconds)];
        for (int i = 1; i < whole.Length; i++)
            if (whole[i] < whole[i - 1])
                throw Backwards(whole, i);
        double speed = whole.Where(way.Encloses).Select(way.SpeedAt).DefaultIfEmpty(0).Max();
        bool shared = whole.Zip(whole.Skip(1)).Any(pair => pair.First == pair.Second);
        if (!shared || index.Occurrences.Any(o => o > 0))
        {
            Report(1, speed, "The times of pings are whole seconds, cut off; they were taken as exact", refuse: shared);
            return whole;
        }
        double[] seconds = new double[whole.Length];
        double error = WholeSecondClock.Restore(index.Seconds, index.Numbers, seconds);
        Report(error, speed, "Several pings share a second and nothing gives fractions; pings were taken as evenly timed", refuse: true);
        return [.. seconds.Select(s => Instant.FromUnixTimeSeconds((long)Math.Floor(s)).PlusNanoseconds((long)((s - Math.Floor(s)) * 1e9)))];
    }

    private void Report(double error, double speed, string what, bool refuse)
    {
        if (refuse && error * speed > WorthlessError)
            throw new SurveyException(file.Name, "bytes 157–166", $"several pings share a second and neither pings.csv nor revision 2.1 nanoseconds tell them apart, so that positions from navigation.csv may be {error * speed:0.##} m off", "give pings.csv with fractions of a second");
        cautions.Add(new Caution(file.Name, $"{what}, which can put positions from navigation.csv {error * speed:0.###} m off ({error:0.###} s at {speed:0.##} m/s)."));
    }
}
