using System.Numerics;

namespace Undersand.Acoustics;

/// <summary>A plane wave at the plane boundary between water and sediment, both fluids, the sediment with loss.</summary>
/// <remarks>
/// Rayleigh reflection coefficient of a fluid half-space with loss, R = (r cos α − √(n² − sin² α)) / (r cos α + √(n² − sin² α)),
/// n = (1 + iδ)/ν, r density ratio, ν speed ratio, δ loss parameter, α from the normal; as in APL-UW TR 9407 (1994), section IV.
/// Time factor e^(−iωt): conjugate every coefficient for e^(+iωt). Coefficients are for pressure.
/// See docs/science/reflection-and-transmission.md.
/// </remarks>
public sealed class PlaneInterface
{
    private readonly double _densityRatio;
    private readonly double _speedRatio;
    private readonly Complex _n;

    /// <summary>The boundary between these two.</summary>
    /// <param name="water">Above.</param>
    /// <param name="sediment">Below.</param>
    public PlaneInterface(Water water, Sediment sediment)
        : this(sediment.Density / water.Density, sediment.SoundSpeed / water.SoundSpeed, LossParameter(sediment))
    {
    }

    /// <summary>The boundary with these ratios.</summary>
    /// <param name="densityRatio">r: density below over density above.</param>
    /// <param name="speedRatio">ν: sound speed below over sound speed above.</param>
    /// <param name="lossParameter">δ: imaginary over real part of the wavenumber below, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A ratio is not above 0, or the loss is negative.</exception>
    public PlaneInterface(double densityRatio, double speedRatio, double lossParameter)
    {
        if (!(densityRatio > 0))
            throw new ArgumentOutOfRangeException(nameof(densityRatio), densityRatio, "the density ratio is above 0");
        if (!(speedRatio > 0))
            throw new ArgumentOutOfRangeException(nameof(speedRatio), speedRatio, "the speed ratio is above 0");
        if (!(lossParameter >= 0))
            throw new ArgumentOutOfRangeException(nameof(lossParameter), lossParameter, "the loss parameter is not negative");
        _densityRatio = densityRatio;
        _speedRatio = speedRatio;
        _n = new Complex(1, lossParameter) / speedRatio;
    }

    /// <summary>Reflection coefficient of the seabed for a wave that comes down through the water.</summary>
    /// <param name="incidence">α: angle from the normal in the water, 0–90°.</param>
    public Complex Reflection(Angle incidence) => ReflectionAt(Math.Sin(incidence.Radians), Math.Cos(incidence.Radians));

    /// <summary>Transmission coefficient for pressure, water to sediment: 1 + R.</summary>
    /// <param name="incidence">α: angle from the normal in the water, 0–90°.</param>
    public Complex TransmissionDown(Angle incidence) => 1 + Reflection(incidence);

    /// <summary>Transmission coefficient for pressure, sediment to water, along the same ray the other way: 1 − R.</summary>
    /// <param name="incidence">α: angle from the normal <em>in the water</em>, so that both directions share one ray.</param>
    /// <remarks>From above and from below the coefficients of one ray are R and −R (Stokes' relations), so T↓T↑ = 1 − R².</remarks>
    public Complex TransmissionUp(Angle incidence) => 1 - Reflection(incidence);

    /// <summary>The part of the energy flow towards the seabed that is reflected, |R|².</summary>
    /// <param name="incidence">α: angle from the normal in the water, 0–90°.</param>
    public double ReflectedEnergy(Angle incidence) => Square(Reflection(incidence));

    /// <summary>The part of the energy flow towards the seabed that crosses it, |T|²·Re(√(n²−sin²α)) / (r cos α); with loss it is what enters.</summary>
    /// <param name="incidence">α: angle from the normal in the water, 0–90° (at 90° nothing flows towards the seabed and the answer is 0).</param>
    public double TransmittedEnergy(Angle incidence)
    {
        double sine = Math.Sin(incidence.Radians), cosine = Math.Cos(incidence.Radians);
        if (cosine <= 0)
            return 0;
        return Square(TransmissionDown(incidence)) * VerticalIndex(sine, cosine).Real / (_densityRatio * cosine);
    }

    /// <summary>Loss parameter δ of a sediment: δ = k c ln 10 / (40 000 π), k in dB/m/kHz, c in m/s (APL-UW TR 9407, section IV).</summary>
    /// <param name="sediment">The sediment.</param>
    public static double LossParameter(Sediment sediment) =>
        sediment.AttenuationDbPerMetrePerKhz * sediment.SoundSpeed * Math.Log(10) / (40_000 * Math.PI);

    /// <summary>Reflection coefficient at normal incidence of a half-space without loss, (Z₂−Z₁)/(Z₂+Z₁).</summary>
    /// <param name="density1">kg/m³, on the side of the incident wave.</param>
    /// <param name="c1">m/s.</param>
    /// <param name="density2">kg/m³.</param>
    /// <param name="c2">m/s.</param>
    public static double NormalReflection(double density1, double c1, double density2, double c2) =>
        (density2 * c2 - density1 * c1) / (density2 * c2 + density1 * c1);

    internal Complex ReflectionAt(double sine, double cosine)
    {
        Complex below = VerticalIndex(sine, cosine), above = _densityRatio * cosine;
        return (above - below) / (above + below);
    }

    /// <summary>√(n² − sin²α), the root that decays away from the boundary; without loss, below the critical angle, exact for c₂ = c₁.</summary>
    private Complex VerticalIndex(double sine, double cosine)
    {
        if (_n.Imaginary == 0 && _speedRatio == 1)
            return cosine;
        Complex root = Complex.Sqrt(_n * _n - sine * sine);
        return root.Imaginary < 0 ? -root : root;
    }

    private static double Square(Complex z) => z.Real * z.Real + z.Imaginary * z.Imaginary;
}
