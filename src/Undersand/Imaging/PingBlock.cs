using Undersand.Imaging.Conditioning;

namespace Undersand.Imaging;

/// <summary>A block of a line's pings: where its usable sources are, and the box around them.</summary>
internal sealed class PingBlock
{
    private readonly double _west = double.PositiveInfinity, _south = double.PositiveInfinity, _east = double.NegativeInfinity, _north = double.NegativeInfinity;

    public PingBlock(LineScan scan, int index)
    {
        Index = index;
        int first = index * Conditioner.BlockSize, end = Math.Min(first + Conditioner.BlockSize, scan.Along.Length);
        var sources = new List<(int, GridPoint)>();
        for (int p = first; p < end; p++)
        {
            if (!scan.IsUsable(p))
                continue;
            var at = scan.Reader.Line.PingAt(p).Source;
            sources.Add((p, at));
            (_west, _east) = (Math.Min(_west, at.Easting), Math.Max(_east, at.Easting));
            (_south, _north) = (Math.Min(_south, at.Northing), Math.Max(_north, at.Northing));
        }
        Sources = sources;
    }

    public int Index { get; }

    /// <summary>Index and position of the usable pings.</summary>
    public IReadOnlyList<(int Index, GridPoint Source)> Sources { get; }

    public bool Overlaps(double west, double south, double east, double north) =>
        _west <= east && _east >= west && _south <= north && _north >= south;

    /// <summary>A lower bound of the distance of any of its sources to a place.</summary>
    public double DistanceTo(double easting, double northing)
    {
        double e = Math.Max(0, Math.Max(_west - easting, easting - _east)), n = Math.Max(0, Math.Max(_south - northing, northing - _north));
        return Math.Sqrt(e * e + n * n);
    }

    /// <summary>Source and receiver of each good trace.</summary>
    public IEnumerable<(GridPoint Source, GridPoint Receiver)> Traces(LineScan scan)
    {
        foreach (var (p, source) in Sources)
        {
            var ping = scan.Reader.Line.PingAt(p);
            for (int r = 0; r < ping.Receivers.Count; r++)
                if (scan.States[p * scan.Receivers + r] == TraceState.Good)
                    yield return (source, ping.Receivers[r].Position);
        }
    }
}
