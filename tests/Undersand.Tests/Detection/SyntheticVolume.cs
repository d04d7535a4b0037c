using Undersand.Imaging;

namespace Undersand.Tests.Detection;

/// <summary>A volume made of speckle, points and layers, with everything Detection asks of its imaging. No physics: a picture of what physics gives.</summary>
internal sealed class SyntheticVolume : IVolume, IImageModel
{
    private const int Traces = 400;
    private readonly float[][] _real, _imaginary, _background;
    private readonly bool[][] _seen;
    private readonly Dictionary<int, Viewpoint> _views = [];
    private readonly Dictionary<int, double> _tracks = [];
    private readonly Blur[] _blurs;

    public SyntheticVolume(int nx, int ny, int nz, int lines, double spacing = 0.05, Blur? blur = null)
    {
        Grid = new VoxelGrid(1000, 2000, spacing, nx, ny, nz, 0.05);
        Looks = [.. Enumerable.Range(0, lines).Select(l => new Look(l, l, 0, $"line {l}"))];
        _real = [.. Looks.Select(_ => new float[nx * ny * nz])];
        _imaginary = [.. Looks.Select(_ => new float[nx * ny * nz])];
        _background = [.. Looks.Select(_ => new float[nx * ny * nz])];
        _seen = [.. Looks.Select(_ => Enumerable.Repeat(true, nx * ny).ToArray())];
        _blurs = [.. Looks.Select(_ => blur ?? new Blur(0.09, 0.09, 0.075))];
        for (int l = 0; l < lines; l++)
            _views[l] = new Viewpoint(1.0, 8.0, Angle.FromDegrees(l * 90), 0, 1.0);
    }

    public VoxelGrid Grid { get; }
    public IReadOnlyList<Look> Looks { get; }
    public double Noise { get; set; }
    public double Carrier { get; } = 4 * Math.PI * 11_000 / 1650 * 0.95;
    public double? Seabed { get; set; }

    // Points leak nothing; what lies on one arc does, as strongly as the arc was drawn, and its ringing after it.
    public double LeakAt(int line, in BuriedPlace from, in BuriedPlace to)
    {
        if (!_tracks.TryGetValue(line, out double track))
            return 0;
        double across = to.Easting - Grid.OriginEasting - track, other = from.Easting - Grid.OriginEasting - track;
        double later = Math.Sqrt(across * across + Math.Pow(to.Burial + 1, 2)) - Math.Sqrt(other * other + Math.Pow(from.Burial + 1, 2));
        return later is > -0.3 and < 0.5 ? Fade(across) / Fade(other) * Lateral(to.Northing - from.Northing, _blurs[line].Along) : 0;
    }

    public PulseSpectrum PulseOf(int line) => new(4000, 18_000, f => 0.5 - 0.5 * Math.Cos(2 * Math.PI * (f - 4000) / 14_000));

    public void SetView(int line, Viewpoint view, Blur blur)
    {
        _views[line] = view;
        _blurs[line] = blur;
    }

    /// <summary>Speckle of a mean square of one times level²: complex white noise seen through the point's image, with gamma texture where shape is finite.</summary>
    public void AddSpeckle(int line, int seed, double level = 1, double shape = double.PositiveInfinity, double decayPerMetre = 0)
    {
        int nx = Grid.CountX, ny = Grid.CountY, nz = Grid.CountZ, n = nx * ny * nz;
        var random = new Random(seed);
        float[] re = new float[n], im = new float[n];
        for (int i = 0; i < n; i++)
        {
            double r = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())), phi = 2 * Math.PI * random.NextDouble();
            double texture = double.IsInfinity(shape) ? 1 : Math.Sqrt(Gamma(random, shape) / shape);
            (re[i], im[i]) = ((float)(texture * r * Math.Cos(phi)), (float)(texture * r * Math.Sin(phi)));
        }
        var b = _blurs[line];
        Blurred(re, im, nx, 1 * nz, b.Along, 0);
        Blurred(re, im, ny, nx * nz, b.Across, 0);
        Blurred(re, im, nz, 1, b.Burial, Carrier);
        double power = 0;
        for (int i = 0; i < n; i++)
            power += re[i] * (double)re[i] + im[i] * (double)im[i];
        double scale = level / Math.Sqrt(power / n);
        for (int i = 0; i < n; i++)
        {
            double here = scale * Math.Exp(-decayPerMetre * Grid.BurialAt(i % nz));
            _real[line][i] += (float)(here * re[i]);
            _imaginary[line][i] += (float)(here * im[i]);
            _background[line][i] += (float)(here * here / (scale * scale) * level * level / Math.Max(level * level, 1e-30) * level * level);
        }
    }

    /// <summary>A point's image of complex amplitude a·e^{i·phase} at a place in metres from the origin.</summary>
    public void AddPoint(int line, double east, double north, double burial, double amplitude, double phase = 0)
    {
        var b = _blurs[line];
        double s = Grid.Spacing, reach = 0.6;
        for (int y = (int)Math.Max(0, (north - reach) / s); y <= Math.Min(Grid.CountY - 1, (north + reach) / s); y++)
            for (int x = (int)Math.Max(0, (east - reach) / s); x <= Math.Min(Grid.CountX - 1, (east + reach) / s); x++)
                for (int z = (int)Math.Max(0, (burial - reach - 0.05) / s); z <= Math.Min(Grid.CountZ - 1, (burial + reach - 0.05) / s); z++)
                {
                    double dz = Grid.BurialAt(z) - burial, value = amplitude * Lateral(x * s - east, b.Along) * Lateral(y * s - north, b.Across) * Pulse(dz, b.Burial);
                    Add(line, x, y, z, value, phase + Carrier * dz);
                }
    }

    /// <summary>An echo of one line that can't tell across: the same point all along its arc of constant slant range about the track at <paramref name="trackEast"/>, which runs north.</summary>
    public void AddArc(int line, double trackEast, double east, double north, double burial, double amplitude)
    {
        var b = _blurs[line];
        _tracks[line] = trackEast;
        double s = Grid.Spacing, range = Math.Sqrt(Math.Pow(east - trackEast, 2) + Math.Pow(burial + 1, 2));
        for (int y = 0; y < Grid.CountY; y++)
            for (int x = 0; x < Grid.CountX; x++)
                for (int z = 0; z < Grid.CountZ; z++)
                {
                    double here = Math.Sqrt(Math.Pow(x * s - trackEast, 2) + Math.Pow(Grid.BurialAt(z) + 1, 2)) - range;
                    double fade = Fade(x * s - trackEast);
                    double value = amplitude * fade * Lateral(y * s - north, b.Along) * Pulse(here, b.Burial);
                    if (Math.Abs(value) > 1e-7 * amplitude)
                        Add(line, x, y, z, value, Carrier * here);
                }
    }

    private static double Fade(double across) => Math.Exp(-0.5 * across * across / 1.44);

    /// <summary>A rough layer, dipping east and north.</summary>
    public void AddLayer(int line, int seed, double burial, double slopeEast, double slopeNorth, double amplitude, double roughness = 0.3)
    {
        var random = new Random(seed);
        for (int y = 0; y < Grid.CountY; y++)
            for (int x = 0; x < Grid.CountX; x++)
            {
                double at = burial + slopeEast * x * Grid.Spacing + slopeNorth * y * Grid.Spacing;
                double a = amplitude * (1 + roughness * (2 * random.NextDouble() - 1)), phase = roughness * (2 * random.NextDouble() - 1);
                for (int z = 0; z < Grid.CountZ; z++)
                    Add(line, x, y, z, a * Pulse(Grid.BurialAt(z) - at, _blurs[line].Burial), phase + Carrier * (Grid.BurialAt(z) - at));
            }
    }

    public void Unsee(int line, Func<int, int, bool> where)
    {
        for (int y = 0; y < Grid.CountY; y++)
            for (int x = 0; x < Grid.CountX; x++)
                if (where(x, y))
                    _seen[line][y * Grid.CountX + x] = false;
    }

    public LookSums? Read(TileIndex tile, int look)
    {
        var sums = new LookSums(Grid.CountZ);
        int size = VoxelGrid.TileSize, nz = Grid.CountZ;
        for (int y = 0; y < Math.Min(size, Grid.CountY - tile.Y * size); y++)
            for (int x = 0; x < Math.Min(size, Grid.CountX - tile.X * size); x++)
            {
                int column = (tile.Y * size + y) * Grid.CountX + tile.X * size + x;
                if (!_seen[look][column])
                    continue;
                for (int z = 0; z < nz; z++)
                {
                    int to = sums.ColumnStart(x, y) + z, from = column * nz + z;
                    float re = _real[look][from], im = _imaginary[look][from];
                    sums.Real[to] = re * Traces;
                    sums.Imaginary[to] = im * Traces;
                    sums.Traces[to] = Traces;
                    // A third of the background would be there if traces had nothing in common; an object's own echo is in every trace.
                    sums.SumOfSquares[to] = (float)(Traces * (0.3 * Traces * (_background[look][from] + Noise * Noise) + re * re + im * im));
                }
            }
        return sums;
    }

    public Blur BlurAt(int line, double easting, double northing, double burial) => _blurs[line];

    public Viewpoint? ViewAt(int line, double easting, double northing)
    {
        var view = _views[line];
        double azimuth = view.TrackAzimuth.Radians, de = easting - Grid.OriginEasting, dn = northing - Grid.OriginNorthing;
        return view with { AcrossOffset = de * Math.Cos(azimuth) - dn * Math.Sin(azimuth) - view.AcrossOffset };
    }

    public double SeabedDepthAt(double easting, double northing) => 9;

    public double NoiseAt(int line, double easting, double northing, double burial) => Noise;

    public double? SeabedReflectionAt(int line, double easting, double northing) => Seabed;

    private void Add(int line, int x, int y, int z, double amplitude, double phase)
    {
        int i = (y * Grid.CountX + x) * Grid.CountZ + z;
        _real[line][i] += (float)(amplitude * Math.Cos(phase));
        _imaginary[line][i] += (float)(amplitude * Math.Sin(phase));
    }

    private static double Lateral(double d, double width) => Math.Exp(-Math.Log(2) * Math.Pow(2 * d / width, 2)) + 0.01 * Math.Exp(-Math.Abs(d) / 0.15) * Math.Cos(40 * d);

    // A compressed chirp: a sinc, tapered a little, of full −6 dB width; first sidelobes near −15 dB.
    private static double Pulse(double d, double width)
    {
        double x = 1.19 * d / width;
        return (Math.Abs(x) < 1e-9 ? 1 : Math.Sin(Math.PI * x) / (Math.PI * x)) * Math.Exp(-Math.Pow(d / (4 * width), 2));
    }

    private void Blurred(float[] re, float[] im, int count, int stride, double width, double carrier)
    {
        int reach = (int)Math.Ceiling(3 * width / Grid.Spacing);
        double[] kr = new double[2 * reach + 1], ki = new double[2 * reach + 1];
        for (int k = -reach; k <= reach; k++)
        {
            double d = k * Grid.Spacing, a = carrier != 0 ? Pulse(d, width) : Math.Exp(-Math.Log(2) * Math.Pow(2 * d / width, 2));
            (kr[k + reach], ki[k + reach]) = (a * Math.Cos(carrier * d), a * Math.Sin(carrier * d));
        }
        double[] lr = new double[count], li = new double[count];
        for (int start = 0; start < re.Length; start++)
        {
            if (start / stride % count != 0)
                continue;
            for (int i = 0; i < count; i++)
            {
                double r = 0, m = 0;
                for (int k = Math.Max(-reach, i - count + 1); k <= Math.Min(reach, i); k++)
                {
                    int at = start + (i - k) * stride;
                    r += kr[k + reach] * re[at] - ki[k + reach] * im[at];
                    m += kr[k + reach] * im[at] + ki[k + reach] * re[at];
                }
                (lr[i], li[i]) = (r, m);
            }
            for (int i = 0; i < count; i++)
                (re[start + i * stride], im[start + i * stride]) = ((float)lr[i], (float)li[i]);
        }
    }

    // Marsaglia and Tsang (2000), with the boost for shapes below one.
    private static double Gamma(Random random, double shape)
    {
        if (shape < 1)
            return Gamma(random, shape + 1) * Math.Pow(1 - random.NextDouble(), 1 / shape);
        double d = shape - 1.0 / 3, c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            double x = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()), v = Math.Pow(1 + c * x, 3);
            if (v > 0 && Math.Log(1 - random.NextDouble()) < 0.5 * x * x + d - d * v + d * Math.Log(v))
                return d * v;
        }
    }
}
