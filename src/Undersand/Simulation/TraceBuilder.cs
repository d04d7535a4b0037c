using Undersand.Signal;

namespace Undersand.Simulation;

/// <summary>Gathers the echoes of one trace and turns them into samples. One for each thread.</summary>
/// <remarks>
/// Absorption grows with frequency, so an echo can't be scaled by one number: points are sorted by their path in sediment into grids half a
/// metre apart, between two of which each is shared so that the loss is exact at a third and two thirds of the band.
/// </remarks>
internal sealed class TraceBuilder
{
    private const double PathStep = 0.5;
    private const int PathBins = 24;
    private const int ShareSteps = 128;

    private readonly TimeGrid _grid;
    private readonly double _neperPerMetreHertz;
    private readonly float[]?[] _points = new float[PathBins + 1][], _facets = new float[PathBins + 1][];
    private readonly bool[] _pointsUsed = new bool[PathBins + 1], _facetsUsed = new bool[PathBins + 1];
    private readonly float[] _seabed;
    private readonly (float Low, float High)[] _shares = new (float, float)[ShareSteps + 1];
    private readonly double[] _re, _im, _fineRe, _fineIm;
    private readonly NWaves.Transforms.Fft64 _backward, _forward;
    private bool _seabedUsed;

    public TraceBuilder(TimeGrid grid, Waveform waveform, Sediment sediment)
    {
        _grid = grid;
        _neperPerMetreHertz = NeperPerMetreHertz(sediment);
        (_fineRe, _fineIm) = (new double[grid.FineSize], new double[grid.FineSize]);
        (_re, _im) = (new double[grid.Size], new double[grid.Size]);
        _seabed = new float[grid.FineSize];
        _backward = new NWaves.Transforms.Fft64(grid.Size);
        _forward = new NWaves.Transforms.Fft64(grid.FineSize);
        double x1 = _neperPerMetreHertz * (waveform.LowFrequency + waveform.Bandwidth / 3) * PathStep;
        double x2 = _neperPerMetreHertz * (waveform.LowFrequency + waveform.Bandwidth * 2 / 3) * PathStep;
        for (int i = 0; i <= ShareSteps; i++)
            _shares[i] = Share((double)i / ShareSteps, x1, x2);
    }

    /// <summary>Nepers lost over a metre at a hertz.</summary>
    public static double NeperPerMetreHertz(Sediment sediment) => sediment.AttenuationDbPerMetrePerKhz * Math.Log(10) / 20 / 1000;

    /// <summary>An empty trace.</summary>
    public void Clear()
    {
        for (int k = _grid.FirstBin; k <= _grid.LastBin; k++)
            _re[k] = _im[k] = 0;
        for (int b = 0; b <= PathBins; b++)
        {
            if (_pointsUsed[b])
                Array.Clear(_points[b]!);
            if (_facetsUsed[b])
                Array.Clear(_facets[b]!);
            _pointsUsed[b] = _facetsUsed[b] = false;
        }
        if (_seabedUsed)
            Array.Clear(_seabed);
        _seabedUsed = false;
    }

    /// <summary>Adds a copy of the transmission.</summary>
    /// <param name="time">When it arrives.</param>
    /// <param name="amplitude">Times the transmission at 1 m.</param>
    /// <param name="sedimentPath">Metres in sediment.</param>
    public void AddPoint(double time, double amplitude, double sedimentPath) => Add(_points, _pointsUsed, time, amplitude, sedimentPath);

    /// <summary>Adds the transmission's time derivative, as a small facet returns it.</summary>
    public void AddFacet(double time, double amplitude, double sedimentPath) => Add(_facets, _facetsUsed, time, amplitude, sedimentPath);

    /// <summary>The grid that the seabed's facets are spread on.</summary>
    public float[] SeabedGrid()
    {
        _seabedUsed = true;
        return _seabed;
    }

    /// <summary>Adds an echo whose spectrum is the transmission's times a given one.</summary>
    /// <param name="echo">The given one, over the grid's bins from the first, real and imaginary by turns.</param>
    /// <param name="time">When its centre answers.</param>
    /// <param name="amplitude">Times the transmission at 1 m.</param>
    /// <param name="sedimentPath">Metres in sediment.</param>
    public void AddSpectrum(ReadOnlySpan<double> echo, double time, double amplitude, double sedimentPath)
    {
        double delay = 2 * Math.PI * (time - _grid.Origin), loss = _neperPerMetreHertz * sedimentPath, f = _grid.FirstBin * _grid.FrequencyStep;
        double size = amplitude * Math.Exp(-loss * f), step = Math.Exp(-loss * _grid.FrequencyStep);
        (double s, double c) = Math.SinCos(-delay * f);
        (double turnS, double turnC) = Math.SinCos(-delay * _grid.FrequencyStep);
        (s, c, turnS, turnC) = (s * size, c * size, turnS * step, turnC * step);
        for (int k = _grid.FirstBin, i = 0; k <= _grid.LastBin; k++, i += 2)
        {
            _re[k] += c * echo[i] - s * echo[i + 1];
            _im[k] += c * echo[i + 1] + s * echo[i];
            (c, s) = (c * turnC - s * turnS, s * turnC + c * turnS);
        }
    }

    /// <summary>Writes the trace in pascal.</summary>
    /// <param name="waterLoss">Nepers of absorption in water, by bin.</param>
    /// <param name="seabedNear">c/h of the seabed's near field, 1/s.</param>
    /// <param name="trace">The samples.</param>
    public void Finish(ReadOnlySpan<double> waterLoss, double seabedNear, Span<float> trace)
    {
        Gather(seabedNear);
        for (int k = _grid.FirstBin; k <= _grid.LastBin; k++)
        {
            double cr = _grid.Chirp[2 * k], ci = _grid.Chirp[2 * k + 1], keep = 2 * Math.Exp(-waterLoss[k]) / _grid.Size;
            (_re[k], _im[k]) = (keep * (cr * _re[k] - ci * _im[k]), keep * (cr * _im[k] + ci * _re[k]));
        }
        Array.Clear(_re, _grid.LastBin + 1, _grid.Size - _grid.LastBin - 1);
        Array.Clear(_im, _grid.LastBin + 1, _grid.Size - _grid.LastBin - 1);
        Array.Clear(_re, 0, _grid.FirstBin);
        Array.Clear(_im, 0, _grid.FirstBin);
        _backward.Inverse(_re, _im);
        for (int i = 0; i < trace.Length; i++)
            trace[i] = (float)_re[_grid.Lead + i];
        Array.Clear(_re);
        Array.Clear(_im);
    }

    private void Add(float[]?[] family, bool[] used, double time, double amplitude, double sedimentPath)
    {
        double x = sedimentPath / PathStep;
        int bin = (int)x;
        if (bin >= PathBins)
            return;
        (float low, float high) = _shares[(int)((x - bin) * ShareSteps + 0.5)];
        used[bin] = true;
        _grid.Spread(family[bin] ??= new float[_grid.FineSize], time, amplitude * low);
        if (high == 0)
            return;
        used[bin + 1] = true;
        _grid.Spread(family[bin + 1] ??= new float[_grid.FineSize], time, amplitude * high);
    }

    /// <summary>Shares a, b so that a + b·e^(−x) = e^(−x·t) at both x.</summary>
    private static (float, float) Share(double t, double x1, double x2)
    {
        if (t == 0)
            return (1, 0);
        if (x2 - x1 < 1e-9)
            return ((float)(1 - t), (float)t);
        double b = (Math.Exp(-x1 * t) - Math.Exp(-x2 * t)) / (Math.Exp(-x1) - Math.Exp(-x2));
        return ((float)(Math.Exp(-x1 * t) - b * Math.Exp(-x1)), (float)b);
    }

    /// <summary>Takes all used grids to the frequency domain, two in one transform.</summary>
    private void Gather(double seabedNear)
    {
        (float[] Grid, double Path, double Near)? waiting = null;
        for (int b = 0; b <= PathBins; b++)
        {
            if (_pointsUsed[b])
                Take((_points[b]!, b * PathStep, double.NaN), ref waiting);
            if (_facetsUsed[b])
                Take((_facets[b]!, b * PathStep, 0), ref waiting);
        }
        if (_seabedUsed)
            Take((_seabed, 0, seabedNear), ref waiting);
        if (waiting is { } last)
            Transform(last, null);
    }

    private void Take((float[] Grid, double Path, double Near) next, ref (float[] Grid, double Path, double Near)? waiting)
    {
        if (waiting is { } first)
        {
            Transform(first, next);
            waiting = null;
        }
        else
            waiting = next;
    }

    private void Transform((float[] Grid, double Path, double Near) a, (float[] Grid, double Path, double Near)? b)
    {
        // In double precision: two grids share a transform, and what rounding leaks from a loud one into a facets' grid is differentiated there.
        for (int i = 0; i < _fineRe.Length; i++)
            (_fineRe[i], _fineIm[i]) = (a.Grid[i], b is { } second ? second.Grid[i] : 0);
        _forward.Direct(_fineRe, _fineIm);
        for (int k = _grid.FirstBin; k <= _grid.LastBin; k++)
        {
            int mirror = _grid.FineSize - k;
            double pr = _fineRe[k], pi = _fineIm[k], mr = _fineRe[mirror], mi = _fineIm[mirror];
            AddBin(k, 0.5 * (pr + mr), 0.5 * (pi - mi), a.Path, a.Near);
            if (b is { } other)
                AddBin(k, 0.5 * (pi + mi), -0.5 * (pr - mr), other.Path, other.Near);
        }
    }

    private void AddBin(int k, double re, double im, double path, double near)
    {
        double f = k * _grid.FrequencyStep, size = _grid.Compensation[k] * Math.Exp(-_neperPerMetreHertz * f * path);
        if (!double.IsNaN(near))
            (re, im) = (near * re - 2 * Math.PI * f * im, near * im + 2 * Math.PI * f * re);
        _re[k] += size * re;
        _im[k] += size * im;
    }
}
