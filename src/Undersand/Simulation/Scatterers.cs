namespace Undersand.Simulation;

/// <summary>A scene's objects taken apart into what answers: spheres, facets and points in their true places.</summary>
internal sealed class Scatterers
{
    private const double FacetsPerWavelength = 4.5;

    private readonly Seafloor _seafloor;
    private readonly Scene _scene;
    private readonly TimeGrid _grid;
    private readonly double _facet;
    private readonly Dictionary<Acoustics.Sphere, SphereEcho> _echoes = [];
    private readonly List<SphereElement> _spheres = [];
    private readonly Dictionary<(int, int, int), Cluster> _clusters = [];

    public Scatterers(Scene scene, Seafloor seafloor, TimeGrid grid, double highestFrequency)
    {
        (_scene, _seafloor, _grid) = (scene, seafloor, grid);
        _facet = scene.Sediment.SoundSpeed / highestFrequency / FacetsPerWavelength;
        foreach (SceneObject thing in scene.Objects)
            Add(thing);
        Clusters = [.. _clusters.Values];
        foreach (Cluster cluster in Clusters)
            cluster.Settle();
    }

    public IReadOnlyList<SphereElement> Spheres => _spheres;

    /// <summary>Facets and points, near ones together.</summary>
    public IReadOnlyList<Cluster> Clusters { get; }

    private void Add(SceneObject thing)
    {
        switch (thing)
        {
            case BuriedGroup group:
                foreach (SceneObject part in group.Parts)
                    Add(part);
                break;
            case BuriedSphere s:
                if (!_echoes.TryGetValue(s.Body, out SphereEcho? echo))
                    _echoes[s.Body] = echo = new SphereEcho(s.Body, _grid, _scene.Sediment.Density, _scene.Sediment.SoundSpeed);
                _spheres.Add(new SphereElement(At(s, s.Body.Radius), echo));
                break;
            case BuriedPoint p:
                ClusterAt(At(p, 0)).Points.Add(new PointElement(At(p, 0), p.ScatteringLength));
                break;
            case BuriedCylinder c:
                AddCylinder(c);
                break;
            case BuriedSlab b:
                AddSlab(b);
                break;
            default:
                throw new ArgumentException($"the simulator knows no echo of a {thing.GetType().Name}", nameof(thing));
        }
    }

    private GridPoint At(SceneObject thing, double below) =>
        new(thing.Easting, thing.Northing, _seafloor.SmoothedAt(thing.Easting, thing.Northing) + thing.Burial + below);

    /// <summary>Strips along the upper half of the barrel.</summary>
    private void AddCylinder(BuriedCylinder c)
    {
        GridPoint centre = At(c, 0.5 * c.Diameter);
        Frame frame = new(c.Azimuth, c.Dip);
        double a = 0.5 * c.Diameter;
        int along = Math.Max(1, (int)Math.Ceiling(c.Length / _facet)), around = Math.Max(3, (int)Math.Ceiling(Math.PI * a / _facet));
        double area = c.Length / along * Math.PI * a / around;
        for (int j = 0; j < around; j++)
        {
            double angle = Math.PI * ((j + 0.5) / around - 0.5);
            for (int i = 0; i < along; i++)
            {
                double x = c.Length * ((i + 0.5) / along - 0.5);
                AddFacet(frame, centre, x, a * Math.Sin(angle), a * Math.Cos(angle), Math.Sin(angle), Math.Cos(angle), area * c.Reflection, 0, 0);
            }
        }
    }

    /// <summary>Its top, and its underside as seen through it: later by the time inside, of the other sign, weaker by two crossings.</summary>
    private void AddSlab(BuriedSlab b)
    {
        GridPoint centre = At(b, 0);
        Frame frame = new(b.Azimuth, b.Dip);
        int along = Math.Max(1, (int)Math.Ceiling(b.Length / _facet)), across = Math.Max(1, (int)Math.Ceiling(b.Width / _facet));
        double area = b.Length / along * b.Width / across, R = b.Reflection;
        for (int j = 0; j < across; j++)
            for (int i = 0; i < along; i++)
            {
                double x = b.Length * ((i + 0.5) / along - 0.5), y = b.Width * ((j + 0.5) / across - 0.5);
                AddFacet(frame, centre, x, y, 0, 0, 1, area * R, -area * R * (1 - R * R), 2 * b.Thickness / b.SoundSpeed);
            }
    }

    private void AddFacet(Frame frame, GridPoint centre, double along, double across, double up, double normalAcross, double normalUp,
        double strength, double under, double later)
    {
        (double e, double n, double d) = frame.ToWorld(along, across, up);
        (double ne, double nn, double nd) = frame.ToWorld(0, normalAcross, normalUp);
        GridPoint place = new(centre.Easting + e, centre.Northing + n, centre.Depth + d);
        ClusterAt(place).Facets.Add(new FacetElement(place, ne, nn, nd, strength, under, later));
    }

    private Cluster ClusterAt(GridPoint place)
    {
        var key = ((int)Math.Floor(place.Easting / Cluster.Size), (int)Math.Floor(place.Northing / Cluster.Size), (int)Math.Floor(place.Depth / Cluster.Size));
        if (!_clusters.TryGetValue(key, out Cluster? cluster))
            _clusters[key] = cluster = new Cluster();
        return cluster;
    }
}

/// <summary>A body's axes: along its azimuth (dipping), across to the right, and up.</summary>
internal readonly struct Frame(Angle azimuth, Angle dip)
{
    private readonly double _sinA = Math.Sin(azimuth.Radians), _cosA = Math.Cos(azimuth.Radians), _sinD = Math.Sin(dip.Radians), _cosD = Math.Cos(dip.Radians);

    /// <summary>East, north and down of a vector given along, across and up.</summary>
    public (double East, double North, double Down) ToWorld(double along, double across, double up)
    {
        double level = along * _cosD + up * _sinD;
        return (level * _sinA + across * _cosA, level * _cosA - across * _sinA, along * _sinD - up * _cosD);
    }
}

internal readonly record struct SphereElement(GridPoint Centre, SphereEcho Echo);

/// <summary>A facet: where, its normal, reflection coefficient times area, the same for what lies under it, and how much later that answers.</summary>
internal readonly record struct FacetElement(GridPoint Place, double East, double North, double Down, double Strength, double Under, double Later);

internal readonly record struct PointElement(GridPoint Place, double ScatteringLength);
