using System.Numerics;
using Undersand.Acoustics;

namespace Undersand.Simulation;

/// <summary>Scattering length of a sphere over frequency, for any pair of directions.</summary>
/// <remarks>Exact at directions half a degree apart, which are worked out when first needed; between them cubic, to better than 1e-4 of the greatest.</remarks>
internal sealed class SphereEcho
{
    private const double RowsPerRadian = 360 / Math.PI;
    private const int LastRow = 360;

    private readonly SphereModes[] _modes;
    private readonly double[]?[] _rows = new double[LastRow + 1][];

    public SphereEcho(Sphere sphere, TimeGrid grid, double density, double soundSpeed)
    {
        Radius = sphere.Radius;
        SphereScattering scattering = new(sphere, density, soundSpeed);
        _modes = new SphereModes[grid.LastBin - grid.FirstBin + 1];
        for (int i = 0; i < _modes.Length; i++)
            _modes[i] = scattering.ModesAt((grid.FirstBin + i) * grid.FrequencyStep);
    }

    /// <summary>Metres.</summary>
    public double Radius { get; }

    /// <summary>Values over the grid's bins: real and imaginary by turns.</summary>
    public int Length => 2 * _modes.Length;

    /// <summary>Scattering length over the bins, for the discrete transform's e^(+iωt): the conjugate of the paper's.</summary>
    /// <param name="cosine">Scalar product of the directions of travel before and after: −1 is straight back.</param>
    /// <param name="length">Real and imaginary by turns, metres.</param>
    public void ScatteringLength(double cosine, Span<double> length)
    {
        double x = Math.Acos(Math.Clamp(cosine, -1, 1)) * RowsPerRadian;
        int i = Math.Clamp((int)x, 1, LastRow - 2);
        double t = x - i;
        double w0 = -t * (t - 1) * (t - 2) / 6, w1 = (t + 1) * (t - 1) * (t - 2) / 2, w2 = -(t + 1) * t * (t - 2) / 2, w3 = (t + 1) * t * (t - 1) / 6;
        double[] r0 = Row(i - 1), r1 = Row(i), r2 = Row(i + 1), r3 = Row(i + 2);
        for (int k = 0; k < length.Length; k++)
            length[k] = w0 * r0[k] + w1 * r1[k] + w2 * r2[k] + w3 * r3[k];
    }

    private double[] Row(int row)
    {
        if (Volatile.Read(ref _rows[row]) is { } ready)
            return ready;
        double cosine = Math.Cos(row / RowsPerRadian);
        double[] made = new double[Length];
        for (int k = 0; k < _modes.Length; k++)
        {
            Complex value = _modes[k].ScatteringLength(cosine);
            (made[2 * k], made[2 * k + 1]) = (value.Real, -value.Imaginary);
        }
        return Interlocked.CompareExchange(ref _rows[row], made, null) ?? made;
    }
}
