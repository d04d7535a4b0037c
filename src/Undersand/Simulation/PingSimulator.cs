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
    private Leg[] _clutterLegs = [], _clusterLegs = [], _sphereLegs = [];

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
            AddClusters(ping.Source, receiver);
            AddClutter(receiver);
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
        _clutterLegs = Legs(_clutter, p => p.Place, source, height, fades: true, _clutterLegs);
        _clusterLegs = Legs(s.Clusters, c => c.Middle, source, height, fades: true, _clusterLegs);
        _sphereLegs = Legs(s.Spheres, p => p.Centre, source, height, fades: false, _sphereLegs);
    }

    /// <summary>The legs from the source; those whose echo can't be in the record, or has faded, are left at zero time.</summary>
    private Leg[] Legs<T>(IReadOnlyList<T> elements, Func<T, GridPoint> placeOf, GridPoint source, double height, bool fades, Leg[] legs)
    {
        if (legs.Length < elements.Count)
            legs = new Leg[elements.Count];
        // Nothing is nearer in time than by a straight way at the greater of both speeds.
        double fastest = Math.Max(_model.Scene.Water.SoundSpeed, _model.Scene.Sediment.SoundSpeed), far = 0.5 * (_model.Grid.End + 1e-3) * fastest;
        for (int i = 0; i < elements.Count; i++)
        {
            GridPoint place = placeOf(elements[i]);
            legs[i] = default;
            double keep = fades ? Kept(source, place, height) : 1;
            if (keep <= 0 || place.DistanceTo(source) > far)
                continue;
            Leg leg = _model.Path.Between(source, place);
            legs[i] = leg with { Inward = leg.Inward * keep };
        }
        return legs;
    }

    /// <summary>Facets, points and clutter are followed to about 55° of incidence in water and fade from 48° on, as they would in any real beam.</summary>
    private static double Kept(GridPoint source, GridPoint place, double height)
    {
        double reach = 1.5 * height + 2.1 * Math.Max(0, place.Depth - source.Depth - height) + 0.4, fade = 0.75 * reach;
        double distance = place.HorizontalDistanceTo(source);
        return distance <= fade ? 1 : distance >= reach ? 0 : 0.5 + 0.5 * Math.Cos(Math.PI * (distance - fade) / (reach - fade));
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

    private void AddClusters(GridPoint source, GridPoint receiver)
    {
        double c1 = _model.Scene.Water.SoundSpeed, c2 = _model.Scene.Sediment.SoundSpeed;
        IReadOnlyList<Cluster> clusters = _model.Scatterers.Clusters;
        for (int i = 0; i < clusters.Count; i++)
        {
            if (_clusterLegs[i].Time == 0)
                continue;
            GridPoint middle = clusters[i].Middle;
            LocalLeg there = new(_clusterLegs[i], middle, c1, c2), back = new(_model.Path.Between(receiver, middle), middle, c1, c2);
            foreach (FacetElement facet in clusters[i].Facets)
                AddFacet(facet, there.To(facet.Place), back.To(facet.Place));
            foreach (PointElement point in clusters[i].Points)
                AddPoint(point, there.To(point.Place), back.To(point.Place));
        }
    }

    private void AddFacet(FacetElement f, Leg there, Leg back)
    {
        double lit = -(there.East * f.East + there.North * f.North + there.Down * f.Down);
        double seen = -(back.East * f.East + back.North * f.North + back.Down * f.Down);
        if (lit <= 0 || seen <= 0)
            return;
        double scale = 1 / (4 * Math.PI * _model.Scene.Sediment.SoundSpeed), time = there.Time + back.Time;
        double size = scale * (lit + seen) * there.Inward * back.Outward, path = there.SedimentPath + back.SedimentPath;
        _trace.AddFacet(time, f.Strength * size, path);
        if (f.Under != 0)
            _trace.AddFacet(time + f.Later, f.Under * size, path);
    }

    private void AddClutter(GridPoint receiver)
    {
        for (int i = 0; i < _clutter.Count; i++)
            if (_clutterLegs[i].Time != 0)
                AddPoint(_clutter[i], _clutterLegs[i], _model.Path.Between(receiver, _clutter[i].Place));
    }

    private void AddPoint(PointElement point, Leg there, Leg back) =>
        _trace.AddPoint(there.Time + back.Time, point.ScatteringLength * there.Inward * back.Outward, there.SedimentPath + back.SedimentPath);
}
