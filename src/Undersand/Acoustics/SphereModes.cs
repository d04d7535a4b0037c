using System.Numerics;

namespace Undersand.Acoustics;

/// <summary>How a sphere scatters one frequency: its partial waves, from which any direction follows cheaply.</summary>
public sealed class SphereModes
{
    private readonly Complex[] _a;
    private readonly double _radius;

    internal SphereModes(double frequency, double ka, double radius, Complex[] coefficients)
    {
        (Frequency, Ka, _radius, _a) = (frequency, ka, radius, coefficients);
    }

    /// <summary>Hertz.</summary>
    public double Frequency { get; }

    /// <summary>x = ka: wavenumber in the surrounding medium times the radius.</summary>
    public double Ka { get; }

    /// <summary>A_n, from n = 0.</summary>
    public IReadOnlyList<Complex> Coefficients => _a;

    /// <summary>Form function towards a direction: f(θ) = −(2i/x) Σ (2n+1) A_n P_n(cos θ).</summary>
    /// <param name="scatteringAngle">θ between the direction in which the incident wave travels and that of the scattered one: 180° is straight back, 0° forward.</param>
    public Complex FormFunction(Angle scatteringAngle) => FormFunction(Math.Cos(scatteringAngle.Radians));

    /// <summary>Form function towards a direction.</summary>
    /// <param name="cosine">cos θ, the scalar product of the unit vectors of travel before and after: −1 is straight back.</param>
    public Complex FormFunction(double cosine)
    {
        Complex sum = Complex.Zero;
        double before = 0, legendre = 1;
        for (int n = 0; n < _a.Length; n++)
        {
            sum += (2 * n + 1) * legendre * _a[n];
            (before, legendre) = (legendre, ((2 * n + 1) * cosine * legendre - n * before) / (n + 1));
        }
        return Ka == 0 ? Complex.Zero : new Complex(0, -2 / Ka) * sum;
    }

    /// <summary>Scattering length (a/2)·f(θ), metres: p_scattered = p_incident · length · e^(ikr)/r.</summary>
    /// <param name="cosine">cos θ: −1 is straight back.</param>
    public Complex ScatteringLength(double cosine) => 0.5 * _radius * FormFunction(cosine);

    /// <summary>Target strength straight back, 20 lg |(a/2) f(π)|, dB re 1 m².</summary>
    public double TargetStrengthDb => 20 * Math.Log10(Complex.Abs(ScatteringLength(-1)));
}
