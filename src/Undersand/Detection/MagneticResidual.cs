using NodaTime;

namespace Undersand.Detection;

/// <summary>Takes the slow part off a magnetometer's readings: what is left stands out over some metres, as buried iron does.</summary>
/// <remarks>
/// The running median along the track is common practice for iron near the sensor: it follows the Earth's field, its change over the day and the ground's own gradient,
/// and an anomaly much narrower than the window doesn't move it. It is no model of a source: wider anomalies are flattened, and the ends of a line have half a window.
/// </remarks>
public static class MagneticResidual
{
    /// <summary>Metres of track to either side that the median is taken over: anomalies at a height of a few metres are some metres wide.</summary>
    public const double HalfWindow = 30;

    /// <summary>A pause longer than this begins a new line.</summary>
    public static readonly Duration Pause = Duration.FromSeconds(10);

    /// <summary>A step longer than this, in metres, begins a new line.</summary>
    public const double Step = 25;

    /// <summary>Splits readings in order of time into lines and takes each line's running median.</summary>
    public static IReadOnlyList<MagneticPoint> Of(IReadOnlyList<MagnetometerReading> readings)
    {
        var points = new List<MagneticPoint>(readings.Count);
        for (int from = 0, line = 1, to; from < readings.Count; from = to, line++)
        {
            to = from + 1;
            while (to < readings.Count && readings[to].Time - readings[to - 1].Time <= Pause && readings[to].Position.HorizontalDistanceTo(readings[to - 1].Position) <= Step)
                to++;
            AddLine(points, readings, from, to, line);
        }
        return points;
    }

    private static void AddLine(List<MagneticPoint> points, IReadOnlyList<MagnetometerReading> readings, int from, int to, int line)
    {
        var along = new double[to - from];
        for (int i = 1; i < along.Length; i++)
            along[i] = along[i - 1] + readings[from + i].Position.HorizontalDistanceTo(readings[from + i - 1].Position);
        var window = new List<double>();
        int first = 0, next = 0;
        for (int i = 0; i < along.Length; i++)
        {
            for (; next < along.Length && along[next] <= along[i] + HalfWindow; next++)
                Insert(window, readings[from + next].TotalFieldNanotesla);
            for (; along[first] < along[i] - HalfWindow; first++)
                window.RemoveAt(window.BinarySearch(readings[from + first].TotalFieldNanotesla));
            points.Add(new MagneticPoint(readings[from + i], line, 0.5 * (window[(window.Count - 1) / 2] + window[window.Count / 2])));
        }
    }

    private static void Insert(List<double> sorted, double value)
    {
        int at = sorted.BinarySearch(value);
        sorted.Insert(at < 0 ? ~at : at, value);
    }
}
