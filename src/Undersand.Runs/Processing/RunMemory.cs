using Undersand.Detection;
using Undersand.Imaging.Conditioning;

namespace Undersand.Runs.Processing;

/// <summary>What a run keeps in memory for the next one in the same program, each under a fingerprint of all it was made from. It never changes a result, only the time until it is there.</summary>
internal sealed class RunMemory
{
    // A megabyte each, where 2.5 m of burial are imaged in voxels of 5 cm.
    private const int TilesKept = 400;
    private volatile IReadOnlyDictionary<string, LineScan> _scans = new Dictionary<string, LineScan>();

    /// <summary>Of the tiles.</summary>
    public EvidenceMemory Evidence { get; } = new(TilesKept);

    /// <summary>A line's scan by the last run, or null.</summary>
    public LineScan? ScanOf(string print) => _scans.GetValueOrDefault(print);

    /// <summary>Keeps a run's scans in place of the last one's.</summary>
    public void Keep(IReadOnlyDictionary<string, LineScan> scans) => _scans = scans;
}
