using System.Numerics;

namespace Undersand.Acoustics;

/// <summary>Exact scattering of a plane wave by a sphere in an unbounded fluid (water, or sediment taken as a fluid).</summary>
/// <remarks>
/// Partial-wave series after Faran (1951), JASA 23, 405–418, with the correction of Hickling (1962), JASA 34, 1582–1592. Time factor
/// e^(−iωt), phase referred to the sphere's centre: p_scattered = p_incident(centre) (a/2r) f e^(ikr). For e^(+iωt), as the discrete Fourier
/// transform of a recording has it, take the conjugate of f (and e^(−ikr)). The body has no absorption of its own, and the medium's is
/// applied to the paths, not here. Far field (r ≫ a and r ≫ ka²) for the scattered wave. See docs/science/sphere-scattering.md.
/// </remarks>
public sealed class SphereScattering
{
    /// <summary>|A_n| is about |j_n/y_n| at most, once n is beyond ka; what is so much below the dipole is left out, where its terms would cancel to 0/0.</summary>
    private const double NothingLeft = 1e-18;

    private readonly Sphere _sphere;
    private readonly double _density;
    private readonly double _c;

    /// <summary>A sphere in a medium.</summary>
    /// <param name="sphere">The sphere.</param>
    /// <param name="mediumDensity">kg/m³, above 0.</param>
    /// <param name="mediumSoundSpeed">m/s, above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">Density or sound speed is not above 0.</exception>
    public SphereScattering(Sphere sphere, double mediumDensity, double mediumSoundSpeed)
    {
        if (!(mediumDensity > 0))
            throw new ArgumentOutOfRangeException(nameof(mediumDensity), mediumDensity, "a density is above 0 kg/m³");
        if (!(mediumSoundSpeed > 0))
            throw new ArgumentOutOfRangeException(nameof(mediumSoundSpeed), mediumSoundSpeed, "a sound speed is above 0 m/s");
        (_sphere, _density, _c) = (sphere, mediumDensity, mediumSoundSpeed);
    }

    /// <summary>Form function straight back, f(π).</summary>
    /// <param name="frequency">Hertz, 0 or more; 0 scatters nothing.</param>
    public Complex FormFunction(double frequency) => ModesAt(frequency).FormFunction(-1);

    /// <summary>Target strength straight back, dB re 1 m².</summary>
    /// <param name="frequency">Hertz, above 0.</param>
    public double TargetStrengthDb(double frequency) => ModesAt(frequency).TargetStrengthDb;

    /// <summary>The partial waves of one frequency, good for every direction.</summary>
    /// <param name="frequency">Hertz, 0 or more; 0 scatters nothing.</param>
    /// <exception cref="ArgumentOutOfRangeException">The frequency is negative or not finite.</exception>
    public SphereModes ModesAt(double frequency)
    {
        if (!(frequency >= 0 && double.IsFinite(frequency)))
            throw new ArgumentOutOfRangeException(nameof(frequency), frequency, "a frequency is finite and not negative");
        double omegaA = 2 * Math.PI * frequency * _sphere.Radius, x = omegaA / _c;
        if (x == 0)
            return new SphereModes(frequency, 0, _sphere.Radius, []);
        int highest = (int)Math.Ceiling(x + 4.05 * Math.Cbrt(x) + 12);
        double[] j = SphericalBessel.First(highest + 1, x), y = SphericalBessel.Second(highest + 1, x);
        (double Numerator, double Denominator)[] admittance = Admittances(highest, x, omegaA);
        Complex[] a = new Complex[highest + 1];
        double dipole = Math.Min(1, Math.Abs(j[1] / y[1]));
        for (int n = 0; n <= highest; n++)
        {
            if (n > x && n > 1 && Math.Abs(j[n]) < NothingLeft * dipole * Math.Abs(y[n]))
                break;
            (double num, double den) = admittance[n];
            Complex h = new(j[n], y[n]), above = new(j[n + 1], y[n + 1]);
            Complex xh = n * h - x * above;
            double xj = n * j[n] - x * j[n + 1];
            a[n] = -(xj * den - num * j[n]) / (xh * den - num * h);
        }
        return new SphereModes(frequency, x, _sphere.Radius, a);
    }

    /// <summary>F_n as numerator and denominator, so that neither the soft sphere nor a resonance divides by zero.</summary>
    private (double Numerator, double Denominator)[] Admittances(int highest, double x, double omegaA)
    {
        (double, double)[] F = new (double, double)[highest + 1];
        switch (_sphere.Kind)
        {
            case SphereKind.Rigid:
                Array.Fill(F, (0, 1));
                break;
            case SphereKind.Soft:
                Array.Fill(F, (1, 0));
                break;
            case SphereKind.Fluid:
                FluidAdmittances(F, x, omegaA / _sphere.CompressionalSpeed);
                break;
            default:
                ElasticAdmittances(F, omegaA / _sphere.CompressionalSpeed, omegaA / _sphere.ShearSpeed);
                break;
        }
        return F;
    }

    /// <summary>F_n = x j_n'(x₁) / (g h j_n(x₁)), g density ratio, h speed ratio, x₁ = x/h (Anderson 1950, JASA 22, 426, in this notation).</summary>
    private void FluidAdmittances((double, double)[] F, double x, double x1)
    {
        double[] j = SphericalBessel.First(F.Length, x1);
        double gh = _sphere.Density / _density * (_sphere.CompressionalSpeed / _c);
        for (int n = 0; n < F.Length; n++)
            F[n] = (x * (n * j[n] / x1 - j[n + 1]), gh * j[n]);
    }

    /// <summary>F_n = −(ρ_w/ρ) x₂² U/N of an elastic solid, x₁ = ωa/c_p, x₂ = ωa/c_s (Faran 1951, corrected by Hickling 1962).</summary>
    private void ElasticAdmittances((double, double)[] F, double x1, double x2)
    {
        double[] ja = SphericalBessel.First(F.Length, x1), jb = SphericalBessel.First(F.Length, x2);
        for (int n = 0; n < F.Length; n++)
        {
            double nn = n * (n + 1.0);
            double xj1 = n * ja[n] - x1 * ja[n + 1];
            double U1 = xj1, U2 = nn * jb[n];
            // j_n'' and j_n' put in terms of j_n and j_{n+1}, so that nothing cancels for small spheres.
            double T1 = 2 * ((n - 1) * ja[n] - x1 * ja[n + 1]), T2 = (2.0 * n * n - 2 - x2 * x2) * jb[n] + 2 * x2 * jb[n + 1];
            double N1 = (2.0 * n * n - 2 * n - x2 * x2) * ja[n] + 4 * x1 * ja[n + 1], N2 = 2 * nn * ((n - 1) * jb[n] - x2 * jb[n + 1]);
            double U = n == 0 ? U1 : U1 * T2 - U2 * T1, N = n == 0 ? N1 : N1 * T2 - N2 * T1;
            F[n] = (-_density / _sphere.Density * x2 * x2 * U, N);
        }
    }
}
