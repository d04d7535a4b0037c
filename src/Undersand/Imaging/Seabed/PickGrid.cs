namespace Undersand.Imaging.Seabed;

/// <summary>Gathers seabed picks on a grid and makes a smooth surface of them.</summary>
internal sealed class PickGrid
{
    // Where picks lie 0.7 m off, at a width of half a metre, the surface has gone half the way back to 0.
    private const double Pull = 3e-3, Reach = 4;

    private readonly double _easting, _northing;
    private readonly double[] _sum, _weight;

    /// <summary>Empty.</summary>
    public PickGrid(double originEasting, double originNorthing, double spacing, int countX, int countY)
    {
        _easting = originEasting;
        _northing = originNorthing;
        Spacing = spacing;
        CountX = countX;
        CountY = countY;
        _sum = new double[countX * countY];
        _weight = new double[countX * countY];
    }

    public double Spacing { get; }
    public int CountX { get; }
    public int CountY { get; }

    /// <summary>The cell of a place, or −1 outside.</summary>
    public int CellOf(double easting, double northing)
    {
        int x = (int)Math.Round((easting - _easting) / Spacing), y = (int)Math.Round((northing - _northing) / Spacing);
        return x < 0 || y < 0 || x >= CountX || y >= CountY ? -1 : y * CountX + x;
    }

    /// <summary>Adds a pick.</summary>
    public void Add(int cell, double depth, double weight = 1)
    {
        _sum[cell] += weight * depth;
        _weight[cell] += weight;
    }

    /// <summary>The surface: picks averaged with a Gaussian of this full width at half maximum, going over into 0 where there are none.</summary>
    public Raster Smooth(double width)
    {
        double sigma = width / 2.3548 / Spacing;
        var sum = (double[])_sum.Clone();
        var weight = (double[])_weight.Clone();
        // A cell counts once however many picks it has: dense tracks must not pull their neighbours.
        for (int i = 0; i < sum.Length; i++)
            if (weight[i] > 0)
                (sum[i], weight[i]) = (sum[i] / weight[i], 1);
        Blur(sum, sigma);
        Blur(weight, sigma);
        return new Raster(_easting, _northing, Spacing, CountX, CountY, [.. sum.Zip(weight, (s, w) => (float)(s / (w + Pull)))]);
    }

    private void Blur(double[] values, double sigma)
    {
        int reach = Math.Max(1, (int)Math.Ceiling(Reach * sigma));
        var kernel = new double[2 * reach + 1];
        for (int k = -reach; k <= reach; k++)
            kernel[k + reach] = Math.Exp(-0.5 * k * k / (sigma * sigma));
        var line = new double[Math.Max(CountX, CountY)];
        for (int y = 0; y < CountY; y++)
            BlurLine(values, y * CountX, 1, CountX, kernel, line);
        for (int x = 0; x < CountX; x++)
            BlurLine(values, x, CountX, CountY, kernel, line);
    }

    private static void BlurLine(double[] values, int start, int step, int count, double[] kernel, double[] line)
    {
        int reach = kernel.Length / 2;
        for (int i = 0; i < count; i++)
            line[i] = values[start + i * step];
        for (int i = 0; i < count; i++)
        {
            double sum = 0;
            for (int k = Math.Max(-reach, -i); k <= Math.Min(reach, count - 1 - i); k++)
                sum += kernel[k + reach] * line[i + k];
            values[start + i * step] = sum;
        }
    }
}
