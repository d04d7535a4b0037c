namespace Undersand.Simulation;

/// <summary>The scatterers of all clutter clouds, in squares of a metre.</summary>
internal sealed class ClutterField
{
    private readonly Region _region;
    private readonly int _countX, _countY;
    private readonly List<PointElement>[] _squares;

    public ClutterField(IReadOnlyList<ClutterCloud> clouds, Region region, Seafloor seafloor, int seed)
    {
        _region = region;
        _countX = 1 + (int)(region.MaxEasting - region.MinEasting);
        _countY = 1 + (int)(region.MaxNorthing - region.MinNorthing);
        _squares = new List<PointElement>[_countX * _countY];
        for (int i = 0; i < _squares.Length; i++)
            _squares[i] = [];
        for (int i = 0; i < clouds.Count; i++)
            Add(clouds[i], seafloor, new RandomStream(seed, 202, i));
    }

    /// <summary>How many.</summary>
    public int Count => _squares.Sum(s => s.Count);

    /// <summary>All within a distance, by whole squares and then exactly.</summary>
    public void Near(GridPoint place, double reach, List<PointElement> found)
    {
        found.Clear();
        int x0 = Column(place.Easting - reach, _region.MinEasting, _countX), x1 = Column(place.Easting + reach, _region.MinEasting, _countX);
        int y0 = Column(place.Northing - reach, _region.MinNorthing, _countY), y1 = Column(place.Northing + reach, _region.MinNorthing, _countY);
        for (int y = y0; y <= y1; y++)
            for (int x = x0; x <= x1; x++)
                foreach (PointElement p in _squares[y * _countX + x])
                    if (p.Place.HorizontalDistanceTo(place) < reach)
                        found.Add(p);
    }

    private void Add(ClutterCloud cloud, Seafloor seafloor, RandomStream random)
    {
        double thickness = cloud.ToBurial - cloud.FromBurial;
        int count = (int)Math.Round(cloud.DensityPerCubicMetre * _region.Area * (thickness > 0 ? thickness : 1));
        for (int i = 0; i < count; i++)
        {
            double e = random.Uniform(_region.MinEasting, _region.MaxEasting), n = random.Uniform(_region.MinNorthing, _region.MaxNorthing);
            double burial = random.Uniform(cloud.FromBurial, cloud.ToBurial);
            double strength = Math.Sqrt(cloud.MeanCrossSection * random.Gamma(cloud.Shape)) * (random.Uniform() < 0.5 ? -1 : 1);
            _squares[Column(n, _region.MinNorthing, _countY) * _countX + Column(e, _region.MinEasting, _countX)]
                .Add(new PointElement(new GridPoint(e, n, seafloor.SmoothedAt(e, n) + burial), strength));
        }
    }

    private static int Column(double at, double from, int count) => Math.Clamp((int)Math.Floor(at - from), 0, count - 1);
}
