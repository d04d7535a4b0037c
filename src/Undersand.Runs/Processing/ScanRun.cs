using Undersand.Imaging.Conditioning;

namespace Undersand.Runs.Processing;

/// <summary>Scans the lines, or takes the last run's scans of the same recordings.</summary>
internal sealed class ScanRun(LineScanner scanner, RunPrints prints, RunMemory memory, IProgressSink progress)
{
    private readonly Dictionary<string, LineScan> _made = [];
    private readonly List<(string Name, string Print)> _lines = [];
    private readonly List<Caution> _cautions = [];

    /// <summary>Name and fingerprint of each line scanned, in order.</summary>
    public IReadOnlyList<(string Name, string Print)> Lines => _lines;

    /// <summary>Lines left out.</summary>
    public IReadOnlyList<Caution> Cautions => _cautions;

    /// <summary>Does it.</summary>
    /// <exception cref="SurveyException">No line has a seabed, or one can't be read.</exception>
    public List<LineScan> Run(IReadOnlyList<ISurveyLine> lines, IReadOnlyList<SeabedStretch> byHand)
    {
        progress.Begin("Scanning the lines", 2.0 * lines.Sum(l => l.PingCount), "pings");
        var scans = new List<LineScan>();
        SurveyException? lastFault = null;
        foreach (var line in lines)
        {
            try
            {
                scans.Add(Scan(line, byHand));
            }
            catch (SurveyException fault) when (fault.Place == LineScanner.NoSeabed)
            {
                // A line without a seabed can't be imaged; the others can.
                lastFault = fault;
                _cautions.Add(new Caution(line.Name, "No seabed was found on this line, so it was left out."));
            }
        }
        memory.Keep(_made);
        return scans.Count > 0 ? scans : throw lastFault!;
    }

    private LineScan Scan(ISurveyLine line, IReadOnlyList<SeabedStretch> byHand)
    {
        string print = prints.Of(line);
        LineScan scan;
        if (memory.ScanOf(print) is { } known)
        {
            scan = scanner.Again(known, line);
            progress.TakeOver(2 * line.PingCount);
        }
        else
            scan = scanner.Scan(line, n => progress.Advance(n), byHand);
        _lines.Add((line.Name, print));
        return _made[print] = scan;
    }
}
