namespace Undersand.Simulation;

/// <summary>Adds what disturbs a ping's recordings, from the ping's own stream of random numbers.</summary>
internal sealed class NoiseMaker(SurveyPlan plan, int seed)
{
    private const double SilentNoise = 1e-3;
    private const double ColourCorner = 1000;
    private readonly Disturbances _d = plan.Disturbances;
    private readonly double _keep = Math.Exp(-2 * Math.PI * ColourCorner * plan.SampleInterval);

    /// <summary>Disturbs a ping in pascal and turns it into recorded units.</summary>
    public void Apply(int line, int ping, int receivers, Span<float> samples)
    {
        int n = plan.SampleCount;
        RandomStream common = new(seed, 404, line, ping);
        bool lost = common.Uniform() < _d.LostPings;
        double burstAt = _d.OtherSonar is { } sonar && common.Uniform() < sonar.Probability ? common.Uniform(0, n * plan.SampleInterval) : double.NaN;
        double[] phases = [.. _d.Tones.Select(_ => common.Uniform(0, 2 * Math.PI))];
        for (int r = 0; r < receivers; r++)
        {
            RandomStream random = new(seed, 505, line, ping, r);
            Span<float> trace = samples.Slice(r * n, n);
            bool silent = _d.SilentReceivers.Contains(r + 1) || _d.DeadReceivers.Contains(r + 1);
            if (lost || silent)
                trace.Clear();
            if (!silent)
                AddOthers(trace, burstAt, phases);
            AddNoise(trace, ref random, silent ? SilentNoise : 1);
            if (random.Uniform() < _d.DropOuts)
                trace.Clear();
            Record(trace, plan.Array.ChannelGainsDb.Count > r ? plan.Array.ChannelGainsDb[r] : 0);
        }
    }

    private void AddOthers(Span<float> trace, double burstAt, double[] phases)
    {
        double dt = plan.SampleInterval;
        if (!double.IsNaN(burstAt) && _d.OtherSonar is { } burst)
            for (int i = Math.Max(0, (int)(burstAt / dt)); i < trace.Length && i * dt < burstAt + burst.Duration; i++)
                trace[i] += (float)(burst.Pressure * Math.Sin(2 * Math.PI * burst.Frequency * i * dt));
        for (int t = 0; t < phases.Length; t++)
            for (int i = 0; i < trace.Length; i++)
                trace[i] += (float)(_d.Tones[t].Pressure * Math.Sin(2 * Math.PI * _d.Tones[t].Frequency * i * dt + phases[t]));
    }

    /// <summary>White noise, and a one-pole low-pass of white noise, scaled to its standard deviation.</summary>
    private void AddNoise(Span<float> trace, ref RandomStream random, double scale)
    {
        double white = scale * _d.WhiteNoise, coloured = scale * _d.ColouredNoise, drive = coloured * Math.Sqrt(1 - _keep * _keep);
        if (white > 0)
            for (int i = 0; i < trace.Length; i++)
                trace[i] += (float)(white * random.Gaussian());
        if (coloured <= 0)
            return;
        double state = coloured * random.Gaussian();
        for (int i = 0; i < trace.Length; i++)
        {
            trace[i] += (float)state;
            state = _keep * state + drive * random.Gaussian();
        }
    }

    private void Record(Span<float> trace, double gainDb)
    {
        double gain = Math.Pow(10, gainDb / 20) / plan.PascalPerUnit, most = (_d.ClipPressure ?? double.PositiveInfinity) / plan.PascalPerUnit;
        for (int i = 0; i < trace.Length; i++)
            trace[i] = (float)Math.Clamp(trace[i] * gain, -most, most);
    }
}
