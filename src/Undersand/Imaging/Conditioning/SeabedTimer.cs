using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>Times the seabed's echo in each trace of a ping whose seabed is roughly known, and measures level and noise on the way.</summary>
/// <remarks>
/// A level seabed is the first guess. What the receivers find then gives the slope under the array, robustly, and each receiver is judged by that
/// tilted plane: on a slope, the ends of a wide array hear the seabed as if it were decimetres higher or lower.
/// </remarks>
internal sealed class SeabedTimer(LineScan scan, SeabedSearch search, double soundSpeed)
{
    /// <summary>Windows in which noise is measured: before the direct arrival, between it and the seabed, at the end.</summary>
    public const int NoiseWindows = 3;

    private const double Window = 0.12, Outlier = 0.08, LeastSpan = 0.15, SteepestSlope = 0.6, BridgeTolerance = 0.05;
    private const int LeastPicks = 5;

    /// <summary>Times a ping; its mean noise power goes into <paramref name="noise"/>, by window and trace.</summary>
    public void Time(int p, float[][] noise)
    {
        var ping = scan.Reader.Line.PingAt(p);
        int count = ping.Receivers.Count;
        for (int w = 0; w < NoiseWindows; w++)
            noise[w].AsSpan(p * scan.Receivers, scan.Receivers).Fill(float.NaN);
        scan.SeabedTimes.AsSpan(p * scan.Receivers, scan.Receivers).Fill(float.NaN);
        (scan.SeabedSnr[p], scan.SeabedAmplitude[p]) = (float.NaN, float.NaN);
        if (double.IsNaN(scan.SeabedDepth[p]))
            return;
        var pulses = Compressed(p, ping);
        var quiet = new double[count];
        for (int r = 0; r < count; r++)
            quiet[r] = pulses[r] is { } trace ? Quiet(p, ping, r, trace, noise) : double.NaN;
        var picks = new (double Depth, double Amplitude)[count];
        var plane = new TiltedPlane(scan.SeabedDepth[p], 0, 0);
        for (int r = 0; r < count; r++)
            picks[r] = Pick(ping, r, pulses[r], plane, Window, quiet[r]);
        plane = Fit(ping, picks, plane);
        for (int r = 0; r < count; r++)
            if (!(Math.Abs(picks[r].Depth - plane.At(ping, r)) < Outlier))
                picks[r] = Pick(ping, r, pulses[r], plane, Outlier, quiet[r]);
        for (int r = 0; r < count; r++)
            scan.TooEarly[p] |= pulses[r] is { } trace && UnderSeabed.HeardTooEarly(search, ping, r, trace, scan.Reader.Compressor.PulseWidth, double.IsNaN(picks[r].Amplitude) ? quiet[r] : picks[r].Amplitude);
        Note(p, ping, picks, plane, quiet);
    }

    private float[]?[] Compressed(int p, Ping ping)
    {
        var raw = scan.Reader.ReadRaw(p);
        int samples = scan.Reader.Line.SampleCount;
        var pulses = new float[]?[ping.Receivers.Count];
        for (int r = 0; r < pulses.Length; r++)
        {
            if (scan.States[p * scan.Receivers + r] != TraceState.Good)
                continue;
            pulses[r] = new float[2 * scan.Reader.Compressor.SampleCount];
            scan.Reader.Compress(raw.AsSpan(r * samples, samples), ping, r, pulses[r]);
        }
        return pulses;
    }

    private double Quiet(int p, Ping ping, int r, float[] pulses, float[][] noise)
    {
        var compressor = scan.Reader.Compressor;
        double pulse = compressor.PulseWidth, expected = SeabedGeometry.EchoTime(ping.Source, ping.Receivers[r].Position, scan.SeabedDepth[p], soundSpeed), direct = search.DirectTime(ping, r);
        // Later than this a chirp is cut off by the trace's end, and so is the noise that looks like one.
        double end = ping.FirstSampleTime + scan.Reader.Line.SampleCount * scan.Reader.Line.SampleInterval - compressor.Reach;
        double[] power =
        [
            search.MeanPower(ping, pulses, ping.FirstSampleTime, direct - 2 * pulse),
            search.MeanPower(ping, pulses, direct + 3 * pulse, expected - 3 * pulse),
            search.MeanPower(ping, pulses, Math.Max(end - 0.12 * (end - ping.FirstSampleTime), expected + 6 * pulse), end),
        ];
        for (int w = 0; w < NoiseWindows; w++)
            noise[w][p * scan.Receivers + r] = (float)power[w];
        return Math.Sqrt(power.Where(x => x > 0).DefaultIfEmpty(0).Min());
    }

    private (double Depth, double Amplitude) Pick(Ping ping, int r, float[]? pulses, TiltedPlane plane, double window, double quiet)
    {
        if (pulses is null)
            return (double.NaN, double.NaN);
        var at = ping.Receivers[r].Position;
        double expected = SeabedGeometry.EchoTime(ping.Source, at, plane.At(ping, r), soundSpeed);
        var (time, amplitude) = search.PickNear(ping, pulses, expected, 2 * window / soundSpeed, quiet);
        return double.IsNaN(time) ? (double.NaN, double.NaN) : (SeabedGeometry.DepthFor(ping.Source, at, time, soundSpeed), amplitude);
    }

    /// <summary>The plane through what the receivers found: medians of slopes between pairs (Theil 1950, Sen 1968), along the array's long axis, then across it.</summary>
    private static TiltedPlane Fit(Ping ping, (double Depth, double Amplitude)[] picks, TiltedPlane level)
    {
        int[] found = Enumerable.Range(0, picks.Length).Where(r => double.IsFinite(picks[r].Depth)).ToArray();
        if (found.Length == 0)
            return level;
        var places = found.Select(r => (E: 0.5 * (ping.Receivers[r].Position.Easting - ping.Source.Easting), N: 0.5 * (ping.Receivers[r].Position.Northing - ping.Source.Northing))).ToArray();
        var depths = found.Select(r => picks[r].Depth).ToArray();
        double slopeEast = 0, slopeNorth = 0;
        if (found.Length >= LeastPicks)
        {
            double me = places.Average(x => x.E), mn = places.Average(x => x.N);
            double ee = places.Sum(x => (x.E - me) * (x.E - me)), nn = places.Sum(x => (x.N - mn) * (x.N - mn)), en = places.Sum(x => (x.E - me) * (x.N - mn));
            double axis = 0.5 * Math.Atan2(2 * en, ee - nn);
            foreach (double angle in new[] { axis, axis + Math.PI / 2 })
            {
                var (sin, cos) = Math.SinCos(angle);
                double slope = Slope(places.Select(x => x.E * cos + x.N * sin).ToArray(), places.Select((x, i) => depths[i] - slopeEast * x.E - slopeNorth * x.N).ToArray());
                (slopeEast, slopeNorth) = (slopeEast + slope * cos, slopeNorth + slope * sin);
            }
        }
        return new TiltedPlane(Robust.MedianOf(places.Select((x, i) => depths[i] - slopeEast * x.E - slopeNorth * x.N)), slopeEast, slopeNorth);
    }

    private static double Slope(double[] x, double[] y)
    {
        double span = x.Max() - x.Min();
        if (span < LeastSpan)
            return 0;
        var slopes = new List<double>();
        for (int i = 0; i < x.Length; i++)
            for (int j = i + 1; j < x.Length; j++)
                if (Math.Abs(x[j] - x[i]) > 0.25 * span)
                    slopes.Add((y[j] - y[i]) / (x[j] - x[i]));
        return slopes.Count == 0 ? 0 : Math.Clamp(Robust.MedianOf(slopes), -SteepestSlope, SteepestSlope);
    }

    private void Note(int p, Ping ping, (double Depth, double Amplitude)[] picks, TiltedPlane plane, double[] quiet)
    {
        var amplitudes = new List<double>();
        var snrs = new List<double>();
        for (int r = 0; r < picks.Length; r++)
            if (quiet[r] > 0 && double.IsFinite(picks[r].Amplitude))
                snrs.Add(20 * Math.Log10(picks[r].Amplitude / quiet[r]));
        // No echo where the neighbours have one: there is nothing of the objects either, and silence would only dilute their sum.
        // Where the track had nothing, a pick counts only where the neighbours' seabed goes on: a fish has sidelobes too.
        bool elsewhere = scan.Bridged.Contains(p) && Math.Abs(plane.Depth - scan.SeabedDepth[p]) > BridgeTolerance;
        bool none = elsewhere || picks.All(x => double.IsNaN(x.Amplitude)) || (snrs.Count > 0 && Robust.MedianOf(snrs) < search.LeastLevel(snrs.Count));
        if (none)
            plane = new TiltedPlane(scan.SeabedDepth[p], 0, 0);
        for (int r = 0; r < picks.Length; r++)
        {
            double expected = plane.At(ping, r), own = !none && Math.Abs(picks[r].Depth - expected) < Outlier ? picks[r].Depth : expected;
            scan.SeabedTimes[p * scan.Receivers + r] = (float)SeabedGeometry.EchoTime(ping.Source, ping.Receivers[r].Position, own, soundSpeed);
            if (none && scan.States[p * scan.Receivers + r] == TraceState.Good)
                scan.States[p * scan.Receivers + r] = TraceState.NoEcho;
            if (!none && double.IsFinite(picks[r].Amplitude))
                amplitudes.Add(picks[r].Amplitude);
        }
        scan.SeabedDepth[p] = plane.Depth;
        if (amplitudes.Count > 0)
            scan.SeabedAmplitude[p] = (float)Robust.MedianOf(amplitudes);
        if (!none && snrs.Count > 0)
            scan.SeabedSnr[p] = (float)Robust.MedianOf(snrs);
    }

    /// <summary>The seabed under an array: its apparent depth by how far the reflection lies from the source, to first order in the slope.</summary>
    private readonly record struct TiltedPlane(double Depth, double SlopeEast, double SlopeNorth)
    {
        public double At(Ping ping, int r) =>
            Depth + 0.5 * (SlopeEast * (ping.Receivers[r].Position.Easting - ping.Source.Easting) + SlopeNorth * (ping.Receivers[r].Position.Northing - ping.Source.Northing));
    }
}
