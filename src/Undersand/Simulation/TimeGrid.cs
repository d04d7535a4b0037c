using Undersand.Signal;

namespace Undersand.Simulation;

/// <summary>The time axis that a trace is built on, longer than the trace so that nothing wraps round into it, and what is prepared once for it.</summary>
/// <remarks>
/// Echoes of points are gathered on a grid at least 4 times as fine as the highest frequency needs, each spread with a short bell
/// (an exponential of a semicircle, as in the non-uniform Fourier transform of Barnett, Magland and af Klinteberg 2019, SIAM J. Sci. Comput.
/// 41, C479), whose spectrum is divided out afterwards: delays of any fraction of a sample to better than 1e-4 of the amplitude.
/// </remarks>
internal sealed class TimeGrid
{
    /// <summary>Grid points that one echo is spread over.</summary>
    public const int Taps = 8;
    private const int TableSteps = 256;
    private const double Beta = 2.3 * Taps;

    public TimeGrid(SurveyPlan plan)
    {
        Interval = plan.SampleInterval;
        int pulse = (int)Math.Ceiling(plan.Waveform.Duration / Interval), margin = (int)Math.Ceiling(1e-3 / Interval) + 16;
        Lead = pulse + margin;
        Size = FourierTransform.SizeFor(Lead + plan.SampleCount + margin);
        SampleCount = plan.SampleCount;
        Origin = plan.FirstSampleTime - Lead * Interval;
        End = plan.FirstSampleTime + plan.SampleCount * Interval;
        Oversampling = 2;
        FineSize = Size * Oversampling;
        FineInterval = Interval / Oversampling;
        double nyquist = 0.5 / Interval;
        FrequencyStep = 1 / (Size * Interval);
        Bins = Size / 2;
        (Chirp, FirstBin, LastBin) = ChirpSpectrum(plan, nyquist);
        Table = SpreadTable();
        Compensation = [.. Enumerable.Range(0, Bins).Select(k => 1 / BellSpectrum(2 * Math.PI * k / FineSize))];
    }

    /// <summary>Seconds between the trace's samples.</summary>
    public double Interval { get; }
    /// <summary>Samples on the axis before the trace begins.</summary>
    public int Lead { get; }
    /// <summary>Samples of the axis.</summary>
    public int Size { get; }
    /// <summary>Samples of the trace.</summary>
    public int SampleCount { get; }
    /// <summary>Time of the axis' first sample after the start of transmission.</summary>
    public double Origin { get; }
    /// <summary>Time after which nothing can be in the trace.</summary>
    public double End { get; }
    public int Oversampling { get; }
    public int FineSize { get; }
    public double FineInterval { get; }
    /// <summary>Hertz between spectral bins.</summary>
    public double FrequencyStep { get; }
    public int Bins { get; }
    /// <summary>First bin in which the transmission has energy worth having.</summary>
    public int FirstBin { get; }
    /// <summary>Last bin in which the transmission has energy worth having.</summary>
    public int LastBin { get; }
    /// <summary>Spectrum of the transmission in pascal at 1 m, real and imaginary by turns, through the recorder's anti-alias filter.</summary>
    public double[] Chirp { get; }
    /// <summary>Rows of <see cref="Taps"/> bell values over the fraction of a grid step.</summary>
    public float[] Table { get; }
    /// <summary>One over the bell's spectrum.</summary>
    public double[] Compensation { get; }

    /// <summary>Adds an echo to a fine grid; one outside of it is left out.</summary>
    public void Spread(float[] fine, double time, double amplitude)
    {
        double x = (time - Origin) / FineInterval;
        if (!(x >= Taps && x < FineSize - Taps))
            return;
        int whole = (int)x;
        double place = (x - whole) * TableSteps;
        int row = (int)place;
        var between = System.Runtime.Intrinsics.Vector256.Create((float)(place - row));
        ref float table = ref System.Runtime.InteropServices.MemoryMarshal.GetArrayDataReference(Table);
        var low = System.Runtime.Intrinsics.Vector256.LoadUnsafe(ref table, (nuint)(row * Taps));
        var high = System.Runtime.Intrinsics.Vector256.LoadUnsafe(ref table, (nuint)((row + 1) * Taps));
        var bell = low + between * (high - low);
        ref float target = ref fine[whole - Taps / 2 + 1];
        var sum = System.Runtime.Intrinsics.Vector256.LoadUnsafe(ref target) + (float)amplitude * bell;
        System.Runtime.Intrinsics.Vector256.StoreUnsafe(sum, ref target);
    }

    private static double Bell(double u)
    {
        double s = 2 * u / Taps;
        return Math.Abs(s) >= 1 ? 0 : Math.Exp(Beta * (Math.Sqrt(1 - s * s) - 1));
    }

    private static float[] SpreadTable()
    {
        float[] table = new float[(TableSteps + 2) * Taps];
        for (int row = 0; row <= TableSteps + 1; row++)
            for (int tap = 0; tap < Taps; tap++)
                table[row * Taps + tap] = (float)Bell(tap - (Taps / 2 - 1) - (double)row / TableSteps);
        return table;
    }

    /// <summary>∫ bell(u) cos(ωu) du by the trapezium rule, ω in radians per grid step.</summary>
    private static double BellSpectrum(double omega)
    {
        const int n = 1024;
        double sum = 0;
        for (int i = -n; i <= n; i++)
            sum += Bell(i * (Taps / 2.0) / n) * Math.Cos(omega * i * (Taps / 2.0) / n);
        return sum * (Taps / 2.0) / n;
    }

    /// <summary>The chirp's spectrum from samples eight times as dense, so that the sampling of the formula folds nothing back.</summary>
    private (double[], int, int) ChirpSpectrum(SurveyPlan plan, double nyquist)
    {
        const int dense = 8;
        var fft = new NWaves.Transforms.Fft64(Size * dense);
        double[] re = new double[Size * dense], im = new double[Size * dense];
        for (int i = 0; i * Interval / dense <= plan.Waveform.Duration && i < re.Length; i++)
            re[i] = plan.SourcePressure / dense * Signal.Chirp.At(plan.Waveform, i * Interval / dense);
        fft.Direct(re, im);
        double[] spectrum = new double[2 * Bins];
        double most = 0;
        for (int k = 1; k < Bins; k++)
        {
            double f = k * FrequencyStep / nyquist, pass = f < 0.92 ? 1 : 0.5 + 0.5 * Math.Cos(Math.PI * (f - 0.92) / 0.08);
            (spectrum[2 * k], spectrum[2 * k + 1]) = (pass * re[k], pass * im[k]);
            most = Math.Max(most, re[k] * re[k] + im[k] * im[k]);
        }
        int first = 1, last = Bins - 1;
        double least = most * 1e-10;
        while (first < last && Power(first) < least)
            first++;
        while (last > first && Power(last) < least)
            last--;
        return (spectrum, first, last);

        double Power(int k) => spectrum[2 * k] * spectrum[2 * k] + spectrum[2 * k + 1] * spectrum[2 * k + 1];
    }
}
