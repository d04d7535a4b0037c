namespace Undersand.Simulation;

/// <summary>
/// A stream of random numbers that depends on nothing but its keys, so that each ping has its own, whichever thread simulates it.
/// SplitMix64 (Steele, Lea and Flood 2014, OOPSLA), constants from memory; only its statistics matter here.
/// </summary>
internal struct RandomStream
{
    private ulong _state;
    private double _spare;
    private bool _hasSpare;

    public RandomStream(int seed, params ReadOnlySpan<int> keys)
    {
        _state = (uint)seed;
        NextBits();
        foreach (int key in keys)
        {
            _state = NextBits() ^ (uint)key;
            NextBits();
        }
    }

    private ulong NextBits()
    {
        ulong z = _state += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    /// <summary>Evenly between 0 (never reached) and 1.</summary>
    public double Uniform() => ((NextBits() >> 11) + 0.5) * (1.0 / (1UL << 53));

    public double Uniform(double from, double to) => from + (to - from) * Uniform();

    /// <summary>Mean 0, variance 1 (polar method of Marsaglia).</summary>
    public double Gaussian()
    {
        if (_hasSpare)
        {
            _hasSpare = false;
            return _spare;
        }
        double x, y, s;
        do
        {
            x = 2 * Uniform() - 1;
            y = 2 * Uniform() - 1;
            s = x * x + y * y;
        }
        while (s >= 1);
        double scale = Math.Sqrt(-2 * Math.Log(s) / s);
        (_spare, _hasSpare) = (y * scale, true);
        return x * scale;
    }

    /// <summary>Gamma law of the given shape and mean 1 (Marsaglia and Tsang 2000, ACM TOMS 26, 363).</summary>
    public double Gamma(double shape)
    {
        double boost = shape < 1 ? Math.Pow(Uniform(), 1 / shape) : 1;
        double d = (shape < 1 ? shape + 1 : shape) - 1.0 / 3, c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            double x = Gaussian(), v = 1 + c * x;
            if (v <= 0)
                continue;
            v = v * v * v;
            if (Math.Log(Uniform()) < 0.5 * x * x + d - d * v + d * Math.Log(v))
                return boost * d * v / shape;
        }
    }
}
