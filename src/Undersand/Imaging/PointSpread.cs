using System.Numerics;
using Undersand.Acoustics;
using Undersand.Imaging.Conditioning;
using Undersand.Imaging.Focusing;
using Undersand.Signal;

namespace Undersand.Imaging;

/// <summary>How a point is blurred in a line's image, by summing its exact echoes through the line's own geometry, pulse and weights.</summary>
internal sealed class PointSpread
{
    private const double Widest = 2.0, Step = 0.01, StepGrowth = 0.1;
    private const int MostTraces = 400;
    private static readonly double[] s_burials = [0.05, 0.2, 0.5, 1.0, 1.5, 2.0, 3.0];
    private readonly Lazy<Blur[]> _blurs;

    /// <summary>For one line, at the place under the ping in its middle.</summary>
    public PointSpread(LineScan scan, Survey survey, FocusSettings focus, int middlePing, Angle azimuth) =>
        _blurs = new Lazy<Blur[]>(() => Measure(scan, survey, focus, middlePing, azimuth));

    /// <summary>The blur at a burial.</summary>
    public Blur At(double burial)
    {
        int i = 0;
        while (i < s_burials.Length - 2 && s_burials[i + 1] < burial)
            i++;
        double part = Math.Clamp((burial - s_burials[i]) / (s_burials[i + 1] - s_burials[i]), 0, 1);
        Blur a = _blurs.Value[i], b = _blurs.Value[i + 1];
        return new Blur(a.Along + part * (b.Along - a.Along), a.Across + part * (b.Across - a.Across), a.Burial + part * (b.Burial - a.Burial));
    }

    private static Blur[] Measure(LineScan scan, Survey survey, FocusSettings focus, int middlePing, Angle azimuth)
    {
        var line = scan.Reader.Line;
        var under = line.PingAt(middlePing).Source;
        double seabed = scan.SeabedDepth[middlePing], reach = (seabed - under.Depth) * Math.Tan(focus.MaxAngle.Radians) + 3;
        var traces = new List<(GridPoint Source, GridPoint Receiver)>();
        for (int p = 0; p < line.PingCount; p++)
        {
            if (!scan.IsUsable(p) || line.PingAt(p).Source.HorizontalDistanceTo(under) > reach)
                continue;
            var ping = line.PingAt(p);
            for (int r = 0; r < ping.Receivers.Count; r++)
                if (scan.States[p * scan.Receivers + r] == TraceState.Good)
                    traces.Add((ping.Source, ping.Receivers[r].Position));
        }
        // Some hundred traces tell the width, taken by the golden ratio, so that no rhythm of pings and receivers is picked out.
        double part = Math.Min(1, (double)MostTraces / Math.Max(traces.Count, 1));
        var some = traces.Where((_, i) => part == 1 || i * 0.6180339887498949 % 1 < part).ToArray();
        return s_burials.Select(b => At(b, some, under, seabed, azimuth, scan.Reader.Compressor, survey, focus)).ToArray();
    }

    private static Blur At(double burial, (GridPoint Source, GridPoint Receiver)[] traces, GridPoint under, double seabed, Angle azimuth, PulseCompressor compressor, Survey survey, FocusSettings focus)
    {
        var rays = new LevelRays(survey, focus);
        double c1 = survey.Water.SoundSpeed, c2 = survey.Sediment.SoundSpeed, cosine = Math.Cos(Math.Asin(Math.Min(0.999, Math.Sin(0.5 * rays.OuterAngle) * c2 / c1)));
        var pulse = new PulseTable(compressor, survey.Sediment.AttenuationDbPerMetrePerKhz * 2 * burial / cosine);
        double sin = Math.Sin(azimuth.Radians), cos = Math.Cos(azimuth.Radians);
        var kept = new List<(GridPoint S, GridPoint R, double Time, double Weight)>();
        foreach (var (s, r) in traces)
        {
            double w = Math.Min(Weight(s), Weight(r));
            if (w > 0)
                kept.Add((s, r, PathTime(s, r, 0, 0, 0), w));
        }
        if (kept.Count == 0)
            return new Blur(Widest, Widest, compressor.PulseWidth * c2 / 2);
        double peak = Sum(0, 0, 0);
        return new Blur(Width(d => Sum(d * sin, d * cos, 0)), Width(d => Sum(d * cos, -d * sin, 0)), Width(d => Sum(0, 0, d)));

        double Weight(GridPoint p) => rays.Weight(Leg(p, 0, 0, 0));

        RefractedLeg Leg(GridPoint p, double e, double n, double down) => rays.Leg(p, new BuriedPlace(under.Easting + e, under.Northing + n, seabed, burial + down));

        double PathTime(GridPoint s, GridPoint r, double e, double n, double down) => Leg(s, e, n, down).Time + Leg(r, e, n, down).Time;

        double Sum(double e, double n, double down)
        {
            Complex sum = 0;
            foreach (var (s, r, time, weight) in kept)
            {
                double shift = PathTime(s, r, e, n, down) - time;
                sum += weight * pulse.At(shift) * Complex.FromPolarCoordinates(1, 2 * Math.PI * compressor.Carrier * shift);
            }
            return sum.Magnitude;
        }

        double Width(Func<double, double> amplitude) => Side(amplitude, 1) + Side(amplitude, -1);

        double Side(Func<double, double> amplitude, int direction)
        {
            double before = peak, step = Step;
            for (double d = Step; d <= 0.5 * Widest; step = Math.Max(Step, StepGrowth * d), d += step)
            {
                double now = amplitude(direction * d);
                if (now < 0.5 * peak)
                    return d - step * (0.5 * peak - now) / (before - now);
                before = now;
            }
            return 0.5 * Widest;
        }
    }

    /// <summary>The pulse's baseband shape, tabulated.</summary>
    private sealed class PulseTable
    {
        private readonly Complex[] _values;
        private readonly double _step;

        public PulseTable(PulseCompressor compressor, double lossDbPerKhz)
        {
            _step = compressor.Interval / 2;
            _values = new Complex[(int)(8 * compressor.PulseWidth / _step) + 2];
            for (int i = 0; i < _values.Length; i++)
                _values[i] = PulseShape.At(compressor, lossDbPerKhz, i * _step);
        }

        public Complex At(double time)
        {
            double x = Math.Abs(time) / _step;
            int i = (int)x;
            if (i >= _values.Length - 1)
                return 0;
            Complex value = _values[i] + (x - i) * (_values[i + 1] - _values[i]);
            return time < 0 ? Complex.Conjugate(value) : value;
        }
    }
}
