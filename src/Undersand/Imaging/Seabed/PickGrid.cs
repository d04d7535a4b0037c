namespace Undersand.Imaging.Seabed;

/// <summary>Gathers seabed picks on a grid and makes a smooth surface of them that has a value everywhere.</summary>
internal sealed class PickGrid
{
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

    /// <summary>The surface: picks averaged with a Gaussian of this full width at half maximum, extended smoothly to where there are none.</summary>
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
        var values = new double[sum.Length];
        for (int i = 0; i < values.Length; i++)
            values[i] = weight[i] > 1e-3 ? sum[i] / weight[i] : double.NaN;
        Fill(values, CountX, CountY);
        return new Raster(_easting, _northing, Spacing, CountX, CountY, Array.ConvertAll(values, v => (float)v));
    }

    private void Blur(double[] values, double sigma)
    {
        int reach = Math.Max(1, (int)Math.Ceiling(3 * sigma));
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

    /// <summary>Gives every hole the value of ever coarser averages around it (pull and push, after Gortler et al. 1996, SIGGRAPH, 43–54).</summary>
    internal static void Fill(double[] values, int countX, int countY)
    {
        if (!values.Any(double.IsNaN) || (countX == 1 && countY == 1))
            return;
        int cx = (countX + 1) / 2, cy = (countY + 1) / 2;
        var coarse = new double[cx * cy];
        for (int y = 0; y < cy; y++)
            for (int x = 0; x < cx; x++)
            {
                double sum = 0;
                int n = 0;
                for (int j = 2 * y; j < Math.Min(2 * y + 2, countY); j++)
                    for (int i = 2 * x; i < Math.Min(2 * x + 2, countX); i++)
                        if (!double.IsNaN(values[j * countX + i]))
                            (sum, n) = (sum + values[j * countX + i], n + 1);
                coarse[y * cx + x] = n > 0 ? sum / n : double.NaN;
            }
        Fill(coarse, cx, cy);
        for (int y = 0; y < countY; y++)
            for (int x = 0; x < countX; x++)
                if (double.IsNaN(values[y * countX + x]))
                    values[y * countX + x] = Interpolate(coarse, cx, cy, 0.5 * x - 0.25, 0.5 * y - 0.25);
    }

    private static double Interpolate(double[] values, int cx, int cy, double x, double y)
    {
        x = Math.Clamp(x, 0, cx - 1);
        y = Math.Clamp(y, 0, cy - 1);
        int ix = Math.Min((int)x, Math.Max(cx - 2, 0)), iy = Math.Min((int)y, Math.Max(cy - 2, 0)), rx = Math.Min(ix + 1, cx - 1), ry = Math.Min(iy + 1, cy - 1);
        double fx = x - ix, fy = y - iy;
        return (values[iy * cx + ix] * (1 - fx) + values[iy * cx + rx] * fx) * (1 - fy) + (values[ry * cx + ix] * (1 - fx) + values[ry * cx + rx] * fx) * fy;
    }
}
