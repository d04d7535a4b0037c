using System.Runtime.CompilerServices;

namespace Undersand.Imaging.Focusing;

/// <summary>Traces re-packed for the kernels: for each interval between samples its middle and its rise, turned by the carrier's phase at the middle.</summary>
/// <remarks>
/// A record is 16 bytes, (mid, rise) complex: the sample at fraction f of the interval is mid + (f − ½)·rise, and what is left of the phase is ω·(f − ½), small enough
/// for short polynomials. Where the carrier turns by more than <see cref="GreatestTurn"/> an interval, intervals are cut into equal parts; linear interpolation
/// stays what it was. One record before and one behind each trace keep an index that rounding pushed over the end inside.
/// </remarks>
internal sealed unsafe class TraceRecords : IDisposable
{
    /// <summary>Most turns of the carrier an interval: ±0.39 rad from the middle, where the kernels' polynomials err by 5·10⁻⁶.</summary>
    public const double GreatestTurn = 0.125;

    private readonly EchoSet _echoes;
    private readonly AlignedFloats _memory;

    public TraceRecords(EchoSet echoes, int traces)
    {
        _echoes = echoes;
        Parts = PartsFor(echoes);
        Intervals = checked((echoes.SampleCount - 1) * Parts);
        _memory = new AlignedFloats(4L * (Intervals + 2) * traces);
    }

    /// <summary>Into how many parts an interval between samples is cut.</summary>
    public int Parts { get; }

    /// <summary>Intervals a trace, after the cutting.</summary>
    public int Intervals { get; }

    public static int PartsFor(EchoSet echoes) => Math.Max(1, (int)Math.Ceiling(echoes.Carrier * echoes.Interval / GreatestTurn));

    public static long BytesPerTrace(EchoSet echoes) => 16L * (((long)echoes.SampleCount - 1) * PartsFor(echoes) + 2);

    /// <summary>The record of interval 0.</summary>
    public float* RecordsAt(int slot) => _memory.At + 4L * ((Intervals + 2L) * slot + 1);

    /// <summary>Re-packs a trace into a slot.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Pack(int slot, int trace)
    {
        double step = _echoes.Interval / Parts, turn = 2 * Math.PI * Fraction(_echoes.Carrier * step);
        double phase = 2 * Math.PI * Fraction(_echoes.Carrier * _echoes.StartTimes[trace] + 0.5 * _echoes.Carrier * step);
        (double sin, double cos) = Math.SinCos(phase);
        (double turnSin, double turnCos) = Math.SinCos(turn);
        float* record = RecordsAt(slot);
        fixed (float* s = _echoes.Trace(trace))
        {
            for (int i = 0; i < _echoes.SampleCount - 1; i++)
            {
                double re = s[2 * i], im = s[2 * i + 1], rise = (s[2 * i + 2] - re) / Parts, riseIm = (s[2 * i + 3] - im) / Parts;
                for (int part = 0; part < Parts; part++, record += 4)
                {
                    double a = re + (part + 0.5) * rise, b = im + (part + 0.5) * riseIm;
                    record[0] = (float)(a * cos - b * sin);
                    record[1] = (float)(a * sin + b * cos);
                    record[2] = (float)(rise * cos - riseIm * sin);
                    record[3] = (float)(rise * sin + riseIm * cos);
                    (cos, sin) = (cos * turnCos - sin * turnSin, sin * turnCos + cos * turnSin);
                }
            }
        }
        Pad(RecordsAt(slot) - 4, 0.5, turnCos, -turnSin);
        Pad(record, -0.5, turnCos, turnSin);
    }

    public void Dispose() => _memory.Dispose();

    /// <summary>Continues the trace by one level record beside its end: same value where they meet.</summary>
    private static void Pad(float* record, double meet, double cos, double sin)
    {
        float* neighbour = meet > 0 ? record + 4 : record - 4;
        double re = neighbour[0] - meet * neighbour[2], im = neighbour[1] - meet * neighbour[3];
        record[0] = (float)(re * cos - im * sin);
        record[1] = (float)(re * sin + im * cos);
        record[2] = record[3] = 0;
    }

    private static double Fraction(double turns) => turns - Math.Floor(turns);
}
