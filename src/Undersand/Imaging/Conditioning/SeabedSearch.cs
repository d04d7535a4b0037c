using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>Finds where the seabed may be in one ping, and then exactly when its echo reached each receiver.</summary>
internal sealed class SeabedSearch(PulseCompressor compressor, double soundSpeed, double leastSnrDb)
{
    // An echo of the sea surface is as steady as the seabed's own; where both arrive together the seabed still wins over nothing. In tens of decibels.
    private const double SurfacePenalty = 4;
    private const double SidelobeRatio = 25;
    private const double Step = 0.01, OnsetFar = 0.4, OnsetNear = 0.12;
    private const int MostCandidates = 6, MostReceivers = 16;

    /// <summary>Time during which the direct arrival, though taken out, blinds a receiver, seconds; and until when what is left of it may be heard.</summary>
    private readonly double _blind = compressor.PulseWidth, _heard = 3 * compressor.PulseWidth;

    /// <summary>Most that is left of the direct arrival, as a part of it.</summary>
    private const double Remainder = 0.02;

    private readonly DirectArrival _direct = new(compressor, soundSpeed);

    /// <summary>The least distance of two surfaces that the pulse tells apart, its first sidelobe minded, metres.</summary>
    public double Apart => Math.Max(0.12, 1.25 * compressor.PulseWidth * soundSpeed / 2);

    /// <summary>Weakest level over noise, dB, that tells an echo from noise: lower where many receivers agree, by the square root of their number.</summary>
    public double LeastLevel(int receivers) => Math.Max(leastSnrDb - 5 * Math.Log10(receivers), Math.Min(leastSnrDb, 5));

    /// <summary>Depths at which the ping's seabed may lie, best first.</summary>
    /// <param name="ping">The ping.</param>
    /// <param name="pulses">Compressed traces by receiver, from which the direct arrival is taken; null where there is none worth looking at.</param>
    public SeabedCandidate[] Candidates(Ping ping, float[]?[] pulses)
    {
        var receivers = Choose(pulses);
        if (receivers.Count == 0)
            return [];
        double first = Math.Max(ping.Source.Depth, receivers.Max(r => ping.Receivers[r].Position.Depth)) + 0.1;
        double last = ping.Source.Depth + 0.5 * soundSpeed * (ping.FirstSampleTime + compressor.SampleCount * compressor.Interval);
        int n = (int)((last - first) / Step);
        if (n < 10)
            return [];
        var remainder = new double[pulses.Length];
        foreach (int r in receivers)
            remainder[r] = Remainder * _direct.SubtractFrom(pulses[r]!, ping, r);
        var stack = Stack(ping, pulses, remainder, receivers, first, n);
        // The mean of N Rayleigh values, of root mean square 1, has its lower quartile here (normal approximation); echoes don't move it.
        double noise = Robust.Quantile(stack.Where(double.IsFinite).ToArray(), 0.25) / (0.886 - 0.31 / Math.Sqrt(receivers.Count)), least = LeastLevel(receivers.Count);
        var found = new List<SeabedCandidate>();
        for (int i = 1; i < n - 1; i++)
        {
            if (!(stack[i] > stack[i - 1] && stack[i] >= stack[i + 1]))
                continue;
            double snr = 20 * Math.Log10(stack[i] / noise);
            if (!(snr >= least) || IsSidelobe(stack, i))
                continue;
            double onset = Math.Clamp(snr - 20 * Math.Log10(Before(stack, i, noise) / noise), 0, 20);
            double depth = first + i * Step, score = Math.Min(snr, 60) / 10 + 1.5 * onset / 10;
            found.Add(new SeabedCandidate(depth, IsSurface(ping, receivers, depth) ? score - SurfacePenalty : score, snr, IsNearDirect(ping, receivers, depth)));
        }
        return found.OrderByDescending(c => c.Score).Take(MostCandidates).ToArray();
    }

    /// <summary>When the seabed's echo peaks in a trace near the expected time, with its amplitude; NaN where nothing stands out.</summary>
    /// <remarks>Of several peaks the one that is both strong and near: a plate buried a decimetre may be stronger than the seabed above it.</remarks>
    public (double Time, double Amplitude) PickNear(Ping ping, float[] pulses, double expected, double window, double noise)
    {
        int from = Math.Max(1, Index(ping, expected - window)), to = Math.Min(compressor.SampleCount - 2, Index(ping, expected + window));
        int best = -1;
        double score = 0, place = (expected - ping.FirstSampleTime) / compressor.Interval, spread = 0.4 * window / compressor.Interval;
        for (int i = from; i <= to; i++)
        {
            double power = Power(pulses, i);
            if (power < 4 * noise * noise || power <= Power(pulses, i - 1) || power < Power(pulses, i + 1))
                continue;
            double off = (i - place) / spread, weighted = power * Math.Exp(-off * off);
            if (weighted > score)
                (score, best) = (weighted, i);
        }
        if (best < 0)
            return (double.NaN, double.NaN);
        double a = Math.Sqrt(Power(pulses, best - 1)), b = Math.Sqrt(Power(pulses, best)), c = Math.Sqrt(Power(pulses, best + 1)), bend = a - 2 * b + c;
        double shift = bend < 0 ? Math.Clamp(0.5 * (a - c) / bend, -0.5, 0.5) : 0;
        return (ping.FirstSampleTime + (best + shift) * compressor.Interval, b);
    }

    /// <summary>Mean of |pulse|² over a time window; NaN where it holds fewer than eight samples.</summary>
    public double MeanPower(Ping ping, float[] pulses, double fromTime, double toTime)
    {
        int from = Math.Max(0, Index(ping, fromTime)), to = Math.Min(compressor.SampleCount, Index(ping, toTime));
        if (to - from < 8)
            return double.NaN;
        double sum = 0;
        for (int i = from; i < to; i++)
            sum += Power(pulses, i);
        return sum / (to - from);
    }

    /// <summary>The direct arrival's time at a receiver, seconds.</summary>
    public double DirectTime(Ping ping, int receiver) => ping.Source.DistanceTo(ping.Receivers[receiver].Position) / soundSpeed;

    /// <summary>Whether an echo is no more than a sidelobe of a louder one near by: Hann's are 31 dB down and fall from there.</summary>
    private bool IsSidelobe(double[] stack, int i)
    {
        int reach = (int)(1.5 * compressor.PulseWidth * soundSpeed / Step);
        for (int j = Math.Max(0, i - reach); j <= Math.Min(stack.Length - 1, i + reach); j++)
            if (stack[j] > SidelobeRatio * stack[i])
                return true;
        return false;
    }

    /// <summary>The loudest just before a depth; as loud as anything where the direct arrival hides what is before.</summary>
    private static double Before(double[] stack, int i, double noise)
    {
        int from = Math.Max(0, i - (int)(OnsetFar / Step)), to = i - (int)(OnsetNear / Step), hidden = 0;
        double loudest = noise;
        for (int j = from; j < to; j++)
        {
            hidden += double.IsNaN(stack[j]) ? 1 : 0;
            loudest = Math.Max(loudest, double.IsNaN(stack[j]) ? 0 : stack[j]);
        }
        return 2 * hidden > to - from ? double.PositiveInfinity : loudest;
    }

    /// <summary>Whether an echo at this depth is where the sound reflected by the sea surface arrives.</summary>
    private bool IsSurface(Ping ping, List<int> receivers, double depth)
    {
        double difference = 0;
        foreach (int r in receivers)
        {
            var at = ping.Receivers[r].Position;
            double up = ping.Source.Depth + at.Depth, across = ping.Source.HorizontalDistanceTo(at);
            difference += (Math.Sqrt(up * up + across * across) / soundSpeed - SeabedGeometry.EchoTime(ping.Source, at, depth, soundSpeed)) / receivers.Count;
        }
        return Math.Abs(difference) < compressor.PulseWidth;
    }

    /// <summary>Whether at half the receivers an echo at this depth comes while the direct arrival may still be heard.</summary>
    private bool IsNearDirect(Ping ping, List<int> receivers, double depth) =>
        2 * receivers.Count(r => SeabedGeometry.EchoTime(ping.Source, ping.Receivers[r].Position, depth, soundSpeed) < DirectTime(ping, r) + _heard) >= receivers.Count;

    private static List<int> Choose(float[]?[] pulses)
    {
        var all = Enumerable.Range(0, pulses.Length).Where(r => pulses[r] is not null).ToList();
        int step = (all.Count + MostReceivers - 1) / MostReceivers;
        return step <= 1 ? all : all.Where((_, i) => i % step == 0).ToList();
    }

    private double[] Stack(Ping ping, float[]?[] pulses, double[] remainder, List<int> receivers, double first, int n)
    {
        var stack = new double[n];
        var count = new int[n];
        foreach (int r in receivers)
        {
            float[] trace = pulses[r]!;
            double rms = Math.Sqrt(MeanPower(ping, trace, double.NegativeInfinity, double.PositiveInfinity)), direct = DirectTime(ping, r);
            if (!(rms > 0))
                continue;
            for (int i = 0; i < n; i++)
            {
                double time = SeabedGeometry.EchoTime(ping.Source, ping.Receivers[r].Position, first + i * Step, soundSpeed);
                int at = Index(ping, time);
                if (time < direct + _blind || at < 0 || at >= compressor.SampleCount)
                    continue;
                stack[i] += Math.Max(0, Math.Sqrt(Power(trace, at)) - (time < direct + _heard ? remainder[r] : 0)) / rms;
                count[i]++;
            }
        }
        for (int i = 0; i < n; i++)
            stack[i] = 2 * count[i] >= receivers.Count ? stack[i] / count[i] : double.NaN;
        return stack;
    }

    private int Index(Ping ping, double time) =>
        (int)Math.Round(Math.Clamp((time - ping.FirstSampleTime) / compressor.Interval, -1, compressor.SampleCount));

    private static double Power(float[] pulses, int i) => (double)pulses[2 * i] * pulses[2 * i] + (double)pulses[2 * i + 1] * pulses[2 * i + 1];
}
