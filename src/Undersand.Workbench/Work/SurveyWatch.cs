using NodaTime;
using Undersand.Positioning;
using Undersand.Runs;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Work;

/// <summary>How far a recording has come.</summary>
internal enum LineStage
{
    Arriving,
    Judged,
    Imaged,
    Faulty,
}

/// <summary>A recording in the watched folder.</summary>
/// <param name="Name">Its file name.</param>
/// <param name="Bytes">How long it is so far.</param>
/// <param name="Written">When it was last written to, as the disk says.</param>
/// <param name="Since">Since when it has been so.</param>
internal sealed record WatchedLine(string Name, long Bytes, DateTime Written, Instant Since)
{
    public LineStage Stage { get; init; }

    /// <summary>What was found out; null before it was judged, and where it can't be used.</summary>
    public LineResult? Result { get; init; }

    public IReadOnlyList<Caution> Cautions { get; init; } = [];

    /// <summary>What its positions are in; null as long as <see cref="Result"/> is.</summary>
    public ProjectedCrs? Crs { get; init; }

    /// <summary>The sentence why it can't be used.</summary>
    public string Fault { get; init; } = "";

    public Instant? JudgedAt { get; init; }

    /// <summary>When results with it were there; null where they were before it was seen here.</summary>
    public Instant? ImagedAt { get; init; }
}

/// <summary>Watches a survey's folder: judges each recording once it is complete, and has the survey imaged with it.</summary>
/// <remarks>
/// A recording is complete when neither its length nor its date has changed for <see cref="StillFor"/>. Where it grows on, it was not, and is judged anew.
/// One that can't be used is named and left out; the others go on. What is here is found out again after a restart: from the folder and from the results.
/// </remarks>
internal sealed class SurveyWatch(ResultsShelf shelf, RunDesk runs) : IDisposable
{
    public static readonly Duration StillFor = Duration.FromSeconds(3);

    /// <summary>When nothing has come for so long, what is provisional is made good.</summary>
    public static readonly Duration QuietFor = Duration.FromMinutes(1);

    private static readonly TimeSpan s_pause = TimeSpan.FromSeconds(1);
    private readonly Lock _gate = new();
    private readonly CancellationTokenSource _closing = new();
    private SortedDictionary<string, WatchedLine> _lines = new(StringComparer.Ordinal);
    private CancellationTokenSource? _ending;
    private (RunInHand Run, string[] Names, bool MakesGood)? _run;
    private string _tables = "", _tried = "";
    private bool _oneByOne;

    public bool IsWatching => _ending is not null;

    /// <summary>Why the folder itself can't be watched at present; empty where it can.</summary>
    public string Fault { get; private set; } = "";

    /// <summary>The recordings, by their names.</summary>
    public IReadOnlyList<WatchedLine> Lines
    {
        get
        {
            lock (_gate)
                return [.. _lines.Values];
        }
    }

    /// <summary>Begins to watch; false where no survey is known, or it is watched already.</summary>
    public bool Begin()
    {
        lock (_gate)
        {
            if (shelf.Place.Survey is null || IsWatching)
                return false;
            _ending = CancellationTokenSource.CreateLinkedTokenSource(_closing.Token);
            CancellationToken end = _ending.Token;
            new Thread(() => Watch(end)) { IsBackground = true, Name = "watch" }.Start();
            return true;
        }
    }

    /// <summary>Watches no longer; a run at work goes on.</summary>
    public void End()
    {
        lock (_gate)
        {
            _ending?.Cancel();
            _ending = null;
        }
    }

    public void Dispose()
    {
        _closing.Cancel();
        _closing.Dispose();
    }

    /// <summary>Looks once: what has changed, what is complete, what is to be imaged.</summary>
    public void Look(Instant now, CancellationToken stop)
    {
        string survey = shelf.Place.Survey!;
        try
        {
            var files = new DirectoryInfo(survey).GetFiles();
            string tables = string.Join(';', files.Where(f => !IsRecording(f)).OrderBy(f => f.Name, StringComparer.Ordinal).Select(f => $"{f.Name} {f.Length} {f.LastWriteTimeUtc.Ticks}"));
            lock (_gate)
                _lines = Sighted(files, tables != _tables, now);
            (_tables, Fault) = (tables, "");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            Fault = $"{survey} can't be read at present ({fault.Message.TrimEnd('.')}); looking again.";
            return;
        }
        foreach (WatchedLine line in Lines.Where(l => l.Stage == LineStage.Arriving && l.Bytes > 0 && now - l.Since >= StillFor))
            Put(Judge(survey, line, stop));
        Settle();
        Image();
        MakeGood(now);
    }

    private static bool IsRecording(FileInfo file) => file.Name.EndsWith(".sgy", StringComparison.OrdinalIgnoreCase);

    // A fault may lie in a table that has come since.
    private SortedDictionary<string, WatchedLine> Sighted(FileInfo[] files, bool tablesChanged, Instant now)
    {
        var sighted = new SortedDictionary<string, WatchedLine>(StringComparer.Ordinal);
        foreach (FileInfo file in files.Where(IsRecording))
        {
            bool same = _lines.TryGetValue(file.Name, out WatchedLine? known) && known.Bytes == file.Length && known.Written == file.LastWriteTimeUtc && !(tablesChanged && known.Stage == LineStage.Faulty);
            sighted[file.Name] = same ? known! : new WatchedLine(file.Name, file.Length, file.LastWriteTimeUtc, now);
        }
        return sighted;
    }

    private static WatchedLine Judge(string survey, WatchedLine line, CancellationToken stop)
    {
        try
        {
            var (result, cautions, crs) = LineCheck.Of(survey, line.Name, null, stop);
            return line with { Stage = LineStage.Judged, Result = result, Cautions = cautions, Crs = crs, JudgedAt = SystemClock.Instance.GetCurrentInstant() };
        }
        catch (Exception fault) when (fault is not OperationCanceledException && DiskFaults.Explain(fault, line.Name) is not null)
        {
            return line with { Stage = LineStage.Faulty, Fault = DiskFaults.Explain(fault, line.Name)!.Message };
        }
    }

    // What the run that is over has come to.
    private void Settle()
    {
        if (_run is not var (run, names, _) || !run.IsOver)
            return;
        _run = null;
        string[] fresh = [.. names.Where(n => !IsImaged(Line(n)))];
        if (run.Stage == RunStage.Refused && fresh.Length == 1 && names.Length > 1)
            Put(Line(fresh[0]) is { } blamed ? blamed with { Stage = LineStage.Faulty, Fault = run.Outcome } : null);
        if (run.Stage == RunStage.Refused && fresh.Length > 1)
            (_oneByOne, _tried) = (true, "");
        else if (run.Stage == RunStage.Done)
            _oneByOne = false;
    }

    // Everything that is complete, in one run; again where more has come meanwhile, but not what was stopped or refused as it stands.
    private void Image()
    {
        foreach (WatchedLine line in Lines.Where(l => l.Stage == LineStage.Judged && IsImaged(l)))
            Put(line with { Stage = LineStage.Imaged, ImagedAt = shelf.Now!.Results.Record.Timings!.Started >= line.Since ? SystemClock.Instance.GetCurrentInstant() : null });
        WatchedLine[] complete = [.. Lines.Where(l => l.Stage is LineStage.Judged or LineStage.Imaged)], fresh = [.. complete.Where(l => l.Stage == LineStage.Judged)];
        if (fresh.Length > 0 && _run is { MakesGood: true, Run.IsOver: false })
            runs.Stop();
        if (fresh.Length == 0 || runs.IsBusy)
            return;
        if (_oneByOne)
            complete = [.. complete.Where(l => l.Stage == LineStage.Imaged), fresh[0]];
        Process($"Watching: with {string.Join(", ", fresh.Select(l => l.Name))}", complete, linesStillCome: true);
    }

    // Once it is quiet, all lines under the seabed as it is now; a line that comes goes first.
    private void MakeGood(Instant now)
    {
        if (runs.IsBusy || shelf.Now?.Results.Record.Provisional != true || Lines.Any(l => l.Stage is LineStage.Arriving or LineStage.Judged || now - l.Since < QuietFor))
            return;
        Process("Watching: nothing new for a minute; all lines under the seabed as it is now", [.. Lines.Where(l => l.Stage == LineStage.Imaged)], linesStillCome: false);
    }

    private void Process(string what, WatchedLine[] lines, bool linesStillCome)
    {
        string key = $"{linesStillCome} {_tables} {string.Join(';', lines.Select(l => $"{l.Name} {l.Bytes} {l.Written.Ticks}"))}";
        string[] names = [.. lines.Select(l => l.Name)];
        if (key != _tried && runs.Process(what, names, linesStillCome) is { } run)
            (_run, _tried) = ((run, names, !linesStillCome), key);
    }

    private bool IsImaged(WatchedLine? line) =>
        line is not null && shelf.Now?.Results.Record is { } record && record.Inputs.Any(i => i.File == line.Name && i.Bytes == line.Bytes) && record.Timings?.Started.ToDateTimeUtc() >= line.Written;

    private WatchedLine? Line(string name)
    {
        lock (_gate)
            return _lines.GetValueOrDefault(name);
    }

    private void Put(WatchedLine? line)
    {
        lock (_gate)
            if (line is not null && _lines.ContainsKey(line.Name))
                _lines[line.Name] = line;
    }

    private void Watch(CancellationToken end)
    {
        try
        {
            do
                Look(SystemClock.Instance.GetCurrentInstant(), end);
            while (!end.WaitHandle.WaitOne(s_pause));
        }
        catch (Exception over) when (over is OperationCanceledException or ObjectDisposedException)
        {
            return;
        }
    }
}
