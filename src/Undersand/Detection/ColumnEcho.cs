using System.Numerics;

namespace Undersand.Detection;

/// <summary>A column of one line's complex image, interpolated between levels.</summary>
/// <remarks>
/// The image turns by several radians between levels, so it is turned back by its own mean rate, interpolated by a windowed sinc of the slow rest, and turned
/// forth again. The rate is known from the column only up to whole turns per level; the turn nearest to the carrier's settles that.
/// </remarks>
internal sealed class ColumnEcho
{
    private const int Reach = 6;
    private readonly double[] _real, _imaginary;
    private readonly double _rate;

    /// <param name="values">The image, level by level.</param>
    /// <param name="around">Level about which the rate of turning is measured.</param>
    /// <param name="carrier">Expected turn per level, radians, positive with burial.</param>
    public ColumnEcho(Complex[] values, int around, double carrier)
    {
        Values = values;
        int n = values.Length;
        Complex sum = 0;
        for (int z = Math.Max(around - 2, 0); z < Math.Min(around + 2, n - 1); z++)
            sum += values[z + 1] * Complex.Conjugate(values[z]);
        double measured = sum == 0 ? carrier : sum.Phase;
        _rate = measured + 2 * Math.PI * Math.Round((carrier - measured) / (2 * Math.PI));
        _real = new double[n];
        _imaginary = new double[n];
        for (int z = 0; z < n; z++)
        {
            Complex slow = values[z] * Complex.FromPolarCoordinates(1, -_rate * z);
            (_real[z], _imaginary[z]) = (slow.Real, slow.Imaginary);
        }
    }

    /// <summary>The image as it was given.</summary>
    public Complex[] Values { get; }

    /// <summary>The complex amplitude at a fractional level.</summary>
    public (double Real, double Imaginary) At(double level)
    {
        var (re, im) = Slow(level);
        double c = Math.Cos(_rate * level), s = Math.Sin(_rate * level);
        return (re * c - im * s, re * s + im * c);
    }

    /// <summary>Its squared magnitude.</summary>
    public double EnergyAt(double level)
    {
        var (re, im) = Slow(level);
        return re * re + im * im;
    }

    private (double Real, double Imaginary) Slow(double level)
    {
        double re = 0, im = 0;
        for (int z = (int)Math.Floor(level) - Reach + 1; z <= (int)Math.Floor(level) + Reach; z++)
        {
            if (z < 0 || z >= _real.Length)
                continue;
            double x = level - z, weight = Sinc(x) * Sinc(x / Reach);
            re += weight * _real[z];
            im += weight * _imaginary[z];
        }
        return (re, im);
    }

    private static double Sinc(double x) => Math.Abs(x) < 1e-9 ? 1 : Math.Sin(Math.PI * x) / (Math.PI * x);
}
