using NodaTime;
using NodaTime.Text;

namespace Undersand.Runs.Reporting;

/// <summary>Composes the report in its readers' order: what was found, what can hurt, where, how sure, how it was done.</summary>
internal static class Contents
{
    private static readonly InstantPattern _minute = InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm");

    public static ReportDocument Compose(SurveyResult result)
    {
        Block[] blocks =
        [
            .. Summary.Blocks(result),
            .. Safety.Blocks(),
            .. MapPages.Blocks(result),
            .. TargetTables.Blocks(result),
            .. GivenPages.Blocks(result),
            .. TargetPages.Blocks(result),
            .. Unseen.Blocks(result),
            .. Evidence.Blocks(result),
            .. LinePages.Blocks(result),
            .. Record.Blocks(result),
        ];
        string name = result.Survey.Name.Trim().Length > 0 ? result.Survey.Name : "Survey without a name";
        return new(name, "What lies under this seabed, and what could not have been seen", $"Recorded {Dates(result)}", $"{name}: report of buried targets", result.NewestPing, blocks);
    }

    /// <summary>From the first ping to the last, UTC.</summary>
    public static string Dates(SurveyResult result)
    {
        Instant first = result.NewestPing, last = result.NewestPing;
        foreach (PingResult ping in result.Lines.SelectMany(l => l.Pings))
        {
            first = Instant.Min(first, ping.Time);
            last = Instant.Max(last, ping.Time);
        }
        string from = _minute.Format(first), to = _minute.Format(last);
        return from == to ? $"{from} UTC" : from[..10] == to[..10] ? $"{from} to {to[11..]} UTC" : $"{from} to {to} UTC";
    }
}
