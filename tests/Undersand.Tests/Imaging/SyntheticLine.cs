using NodaTime;
using Undersand.Signal;

namespace Undersand.Tests.Imaging;

/// <summary>Recordings made of chirps at stated times, quickly: for faults and seabeds, where the physics of the echo is beside the point.</summary>
internal static class SyntheticLine
{
    public const double SoundSpeed = 1500, Interval = 20e-6, VehicleDepth = 5, Spacing = 0.1;
    public const int Samples = 600;
    public static readonly Waveform Waveform = new(4000, 18000, 0.004, 0.1);

    public static readonly Survey SandSurvey = new()
    {
        Name = "synthetic",
        Epsg = 32631,
        Water = new Water(SoundSpeed),
        Sediment = new Sediment(1650, 1950, 0),
        Waveform = Waveform,
        Image = new ImageSettings(1.5),
    };

    /// <summary>An arrival: its path as an image of the source, this far below (vertical path), with this amplitude at 1 m.</summary>
    public readonly record struct Arrival(double Vertical, double Amplitude);

    /// <summary>A line to the east over a seabed that may slope across the track (metres deeper per metre north).</summary>
    /// <param name="pings">How many, 10 cm apart.</param>
    /// <param name="height">Of the vehicle over the seabed below it, by ping.</param>
    /// <param name="receivers">How many in a row across the track.</param>
    /// <param name="width">Of the row.</param>
    /// <param name="more">Further arrivals of a ping.</param>
    /// <param name="noise">Standard deviation.</param>
    /// <param name="slopeNorth">Of the seabed.</param>
    /// <param name="seabed">Amplitude of the seabed's echo at 1 m, by ping.</param>
    /// <param name="direct">Amplitude of the direct arrival at 1 m.</param>
    /// <param name="waveform">Transmitted.</param>
    public static MemoryLine Make(int pings, Func<int, double> height, int receivers = 4, double width = 0.6, Func<int, IEnumerable<Arrival>>? more = null,
        double noise = 1e-3, double slopeNorth = 0, Func<int, double>? seabed = null, double direct = 0.3, Waveform? waveform = null, int seed = 7)
    {
        var random = new Random(seed);
        var list = new Ping[pings];
        var samples = new float[pings][];
        for (int p = 0; p < pings; p++)
        {
            var source = new GridPoint(1000 + p * Spacing, 2000, VehicleDepth);
            list[p] = new Ping(p + 1, Instant.FromUtc(2026, 5, 4, 9, 30) + Duration.FromMilliseconds(100 * p), 0, source,
                [.. Enumerable.Range(0, receivers).Select(r => new Receiver(r + 1, source with { Easting = source.Easting - 0.2, Northing = 2000 + (receivers == 1 ? 0 : width * (r / (receivers - 1.0) - 0.5)) }, true))]);
            samples[p] = new float[receivers * Samples];
            for (int r = 0; r < receivers; r++)
            {
                var at = list[p].Receivers[r].Position;
                var trace = samples[p].AsSpan(r * Samples, Samples);
                for (int i = 0; i < Samples; i++)
                    trace[i] = (float)(noise * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()));
                Add(trace, source.DistanceTo(at), direct, waveform);
                Add(trace, MirrorPath(source, at, height(p), slopeNorth), seabed?.Invoke(p) ?? 0.35, waveform);
                foreach (var arrival in more?.Invoke(p) ?? [])
                    Add(trace, Math.Sqrt(arrival.Vertical * arrival.Vertical + Math.Pow(source.HorizontalDistanceTo(at), 2)), arrival.Amplitude, waveform);
            }
        }
        return new MemoryLine("line-01.sgy", list, Samples, Interval, samples);
    }

    private static void Add(Span<float> trace, double path, double amplitude, Waveform? waveform)
    {
        if (amplitude == 0)
            return;
        for (int i = (int)(path / SoundSpeed / Interval); i < trace.Length; i++)
            trace[i] += (float)(amplitude / path * Chirp.At(waveform ?? Waveform, i * Interval - path / SoundSpeed));
    }

    /// <summary>By the source's image behind the tilted plane: exact.</summary>
    private static double MirrorPath(GridPoint source, GridPoint receiver, double height, double slope)
    {
        double cos = 1 / Math.Sqrt(1 + slope * slope), normal = height * cos;
        // Unit normal, downwards: (0, −slope, 1)·cos.
        double north = -2 * normal * slope * cos, down = 2 * normal * cos;
        double e = receiver.Easting - source.Easting, n = receiver.Northing - source.Northing - north, d = receiver.Depth - source.Depth - down;
        return Math.Sqrt(e * e + n * n + d * d);
    }
}
