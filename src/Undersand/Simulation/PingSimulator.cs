using Undersand.Acoustics;

namespace Undersand.Simulation;

/// <summary>Simulates pings, one after another. One for each thread; what it gives depends on the ping alone.</summary>
internal sealed class PingSimulator
{
    private readonly SceneModel _model;
    private readonly TraceBuilder _trace;
    private readonly SeabedEcho _seabed;
    private readonly List<PointElement> _clutter = [];
    private readonly double[] _waterLoss;
    private readonly double[] _sphere;
    private Leg[] _clutterLegs = [], _pointLegs = [], _facetLegs = [], _sphereLegs = [];

    public PingSimulator(SceneModel model)
    {
        _model = model;
        _trace = new TraceBuilder(model.Grid, model.Plan.Waveform, model.Scene.Sediment);
        _seabed = new SeabedEcho(model.Seafloor, model.Path, model.Scene.Water.SoundSpeed, model.Beam);
        _waterLoss = new double[model.Grid.Bins];
        _sphere = new double[2 * (model.Grid.LastBin - model.Grid.FirstBin + 1)];
    }

    /// <summary>Simulates a ping in pascal, without noise.</summary>
    /// <param name="ping">Where its transducers are.</param>
    /// <param name="samples">Receiver by receiver.</param>
    public void Run(Ping ping, Span<float> samples)
    {
        Prepare(ping.Source);
        int n = _model.Plan.SampleCount;
        for (int r = 0; r < ping.Receivers.Count; r++)
        {
            _trace.Clear();
            GridPoint receiver = ping.Receivers[r].Position;
            if (_model.Plan.Paths.Seabed)
                _seabed.Add(ping.Source, receiver, _model.Grid, _trace);
            PlainPaths.Add(_model, ping.Source, receiver, _trace);
            foreach (LayerEcho layer in _model.Layers)
                layer.Add(ping.Source, receiver, _trace);
            AddSpheres(receiver);
            AddFacets(receiver);
            AddPoints(_model.Scatterers.Points, _pointLegs, receiver, double.PositiveInfinity, ping.Source);
            AddPoints(_clutter, _clutterLegs, receiver, _model.ClutterReach, ping.Source);
            _trace.Finish(_waterLoss, _seabed.Near, samples.Slice(r * n, n));
        }
    }

    private void Prepare(GridPoint source)
    {
        double height = Math.Max(_model.Seafloor.TrendAt(source.Easting, source.Northing) - source.Depth, 0.05);
        Water water = _model.Scene.Water;
        for (int k = 0; k < _waterLoss.Length; k++)
            _waterLoss[k] = Absorption.FrancoisGarrison(k * _model.Grid.FrequencyStep, water.Temperature, water.Salinity, source.Depth)
                / 1000 * 2 * height * Math.Log(10) / 20;
        if (_model.Plan.Paths.Seabed)
            _seabed.Prepare(source, _model.Grid.End);
        _model.Clutter.Near(source, _model.ClutterReach, _clutter);
        Scatterers s = _model.Scatterers;
        _clutterLegs = Legs(_clutter, p => p.Place, source, _clutterLegs);
        _pointLegs = Legs(s.Points, p => p.Place, source, _pointLegs);
        _facetLegs = Legs(s.Facets, f => f.Place, source, _facetLegs);
        _sphereLegs = Legs(s.Spheres, p => p.Centre, source, _sphereLegs);
    }

    /// <summary>The legs from the source; those whose echo can't be in the record are left at zero time.</summary>
    private Leg[] Legs<T>(IReadOnlyList<T> elements, Func<T, GridPoint> placeOf, GridPoint source, Leg[] legs)
    {
        if (legs.Length < elements.Count)
            legs = new Leg[elements.Count];
        // Nothing is nearer in time than by a straight way at the greater of both speeds.
        double fastest = Math.Max(_model.Scene.Water.SoundSpeed, _model.Scene.Sediment.SoundSpeed), far = 0.5 * (_model.Grid.End + 1e-3) * fastest;
        for (int i = 0; i < elements.Count; i++)
        {
            GridPoint place = placeOf(elements[i]);
            legs[i] = place.DistanceTo(source) > far ? default : _model.Path.Between(source, place);
        }
        return legs;
    }

    private void AddSpheres(GridPoint receiver)
    {
        IReadOnlyList<SphereElement> spheres = _model.Scatterers.Spheres;
        for (int i = 0; i < spheres.Count; i++)
        {
            Leg there = _sphereLegs[i];
            if (there.Time == 0)
                continue;
            Leg back = _model.Path.Between(receiver, spheres[i].Centre);
            SphereEcho echo = spheres[i].Echo;
            double time = there.Time + back.Time;
            if (time - 2 * echo.Radius / _model.Scene.Sediment.SoundSpeed > _model.Grid.End)
                continue;
            // Travel before is "there", travel after is against "back".
            double cosine = -(there.East * back.East + there.North * back.North + there.Down * back.Down);
            echo.ScatteringLength(cosine, _sphere);
            double path = Math.Max(0, there.SedimentPath - echo.Radius) + Math.Max(0, back.SedimentPath - echo.Radius);
            _trace.AddSpectrum(_sphere, time, there.Inward * back.Outward, path);
        }
    }

    private void AddFacets(GridPoint receiver)
    {
        IReadOnlyList<FacetElement> facets = _model.Scatterers.Facets;
        double scale = 1 / (4 * Math.PI * _model.Scene.Sediment.SoundSpeed);
        for (int i = 0; i < facets.Count; i++)
        {
            Leg there = _facetLegs[i];
            if (there.Time == 0)
                continue;
            FacetElement f = facets[i];
            double lit = -(there.East * f.East + there.North * f.North + there.Down * f.Down);
            if (lit <= 0)
                continue;
            Leg back = _model.Path.Between(receiver, f.Place);
            double seen = -(back.East * f.East + back.North * f.North + back.Down * f.Down);
            if (seen > 0)
                _trace.AddFacet(there.Time + back.Time + f.Later, scale * f.Strength * (lit + seen) * there.Inward * back.Outward, there.SedimentPath + back.SedimentPath);
        }
    }

    private void AddPoints(IReadOnlyList<PointElement> points, Leg[] legs, GridPoint receiver, double reach, GridPoint source)
    {
        for (int i = 0; i < points.Count; i++)
        {
            Leg there = legs[i];
            if (there.Time == 0)
                continue;
            Leg back = _model.Path.Between(receiver, points[i].Place);
            double size = points[i].ScatteringLength * there.Inward * back.Outward, fade = 0.75 * reach;
            if (points[i].Place.HorizontalDistanceTo(source) is var distance && distance > fade)
                size *= 0.5 + 0.5 * Math.Cos(Math.PI * (distance - fade) / (reach - fade));
            _trace.AddPoint(there.Time + back.Time, size, there.SedimentPath + back.SedimentPath);
        }
    }
}
