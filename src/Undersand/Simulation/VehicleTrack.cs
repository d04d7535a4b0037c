using NodaTime;

namespace Undersand.Simulation;

/// <summary>Where the vehicle and its transducers are at each ping of a line.</summary>
internal sealed class VehicleTrack
{
    private static readonly Duration s_turn = Duration.FromSeconds(90);

    private readonly SurveyPlan _plan;
    private readonly PlannedLine _line;
    private readonly Seafloor _seafloor;
    private readonly Instant _start;
    private readonly Oscillation _height, _cross, _roll, _pitch, _heading;

    public VehicleTrack(SurveyPlan plan, int lineIndex, Seafloor seafloor, int seed)
    {
        (_plan, _line, _seafloor) = (plan, plan.Lines[lineIndex], seafloor);
        PingCount = PingsOf(plan, _line);
        _start = plan.Start;
        for (int i = 0; i < lineIndex; i++)
            _start += TimeOf(plan, PingsOf(plan, plan.Lines[i])) + s_turn;
        RandomStream random = new(seed, 303, lineIndex);
        Motion m = plan.Motion;
        _height = new Oscillation(m.Height, m.Period, ref random);
        _cross = new Oscillation(m.CrossTrack, m.Period, ref random);
        _roll = new Oscillation(m.Roll.Radians, m.Period, ref random);
        _pitch = new Oscillation(m.Pitch.Radians, m.Period, ref random);
        _heading = new Oscillation(m.Heading.Radians, m.Period, ref random);
    }

    public int PingCount { get; }

    public static int PingsOf(SurveyPlan plan, PlannedLine line) => 1 + (int)Math.Floor(line.Length / (line.Speed * plan.PingInterval) + 1e-9);

    /// <summary>The vehicle at a ping.</summary>
    public VehicleState StateAt(int pingIndex)
    {
        double t = pingIndex * _plan.PingInterval, along = t * _line.Speed, across = _cross.At(t);
        (double s, double c) = Math.SinCos(_line.Heading.Radians);
        double e = _line.StartEasting + along * s + across * c, n = _line.StartNorthing + along * c - across * s;
        double depth = _seafloor.TrendAt(e, n) - _plan.Height + _height.At(t);
        Angle heading = new(_line.Heading.Radians + _heading.At(t));
        return new VehicleState(_start + TimeOf(_plan, pingIndex), new GridPoint(e, n, depth), new Attitude(heading, new Angle(_roll.At(t)), new Angle(_pitch.At(t))));
    }

    /// <summary>The ping with its transducers in their places.</summary>
    public Ping PingAt(int pingIndex)
    {
        VehicleState state = StateAt(pingIndex);
        IReadOnlyList<BodyOffset> arms = _plan.Array.Receivers;
        Receiver[] receivers = new Receiver[arms.Count];
        for (int i = 0; i < receivers.Length; i++)
            receivers[i] = new Receiver(i + 1, Place(state, arms[i]), !_plan.Disturbances.DeadReceivers.Contains(i + 1));
        return new Ping(pingIndex + 1, state.Time, _plan.FirstSampleTime, Place(state, _plan.Array.Sources[0]), receivers);
    }

    private static Duration TimeOf(SurveyPlan plan, int pings) => Duration.FromNanoseconds(Math.Round(pings * plan.PingInterval * 1e9));

    /// <summary>A lever arm in the world: by roll about forward, then pitch about starboard, then heading about down.</summary>
    private static GridPoint Place(VehicleState state, BodyOffset arm)
    {
        (double sr, double cr) = Math.SinCos(state.Attitude.Roll.Radians);
        (double sp, double cp) = Math.SinCos(state.Attitude.Pitch.Radians);
        (double sh, double ch) = Math.SinCos(state.Attitude.Heading.Radians);
        double starboard = cr * arm.Starboard - sr * arm.Down, down = sr * arm.Starboard + cr * arm.Down;
        double forward = cp * arm.Forward + sp * down;
        down = -sp * arm.Forward + cp * down;
        return new GridPoint(state.Position.Easting + sh * forward + ch * starboard,
            state.Position.Northing + ch * forward - sh * starboard, state.Position.Depth + down);
    }

    /// <summary>Three sines about a middle period.</summary>
    private readonly struct Oscillation
    {
        private readonly double _size;
        private readonly (double Omega, double Phase)[] _parts;

        public Oscillation(double sd, double period, ref RandomStream random)
        {
            _size = sd * Math.Sqrt(2.0 / 3);
            _parts = new (double, double)[3];
            for (int i = 0; i < 3; i++)
                _parts[i] = (2 * Math.PI / (period * random.Uniform(0.6, 1.7)), random.Uniform(0, 2 * Math.PI));
        }

        public double At(double t)
        {
            double sum = 0;
            foreach ((double omega, double phase) in _parts)
                sum += Math.Sin(omega * t + phase);
            return _size * sum;
        }
    }
}
