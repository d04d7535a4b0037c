using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class RulesTests
{
    // Design check WA-24, exact form: 11 kHz, 0.9 m in water, 2.0 m at 1650 m/s.
    [Theory]
    [InlineData(0.9, 1500, 0.250052)]
    [InlineData(2.0, 1650, 0.389110)]
    public void Fresnel_radius_is_that_of_the_check(double distance, double c, double expected) =>
        Assert.Equal(expected, FresnelRadius.TwoWay(11_000, distance, c), 1e-6);

    // Law: the path to the rim is a quarter of a wavelength longer, one way.
    [Fact]
    public void The_rim_of_the_Fresnel_zone_is_a_quarter_wavelength_farther() =>
        Assert.Equal(1.2 + 1500.0 / 9000 / 4, double.Hypot(1.2, FresnelRadius.TwoWay(9000, 1.2, 1500)), 1e-12);

    // Design check WA-25: 10 kHz, 1 cm; 18 kHz, 2 cm; normal incidence in 1500 m/s.
    [Theory]
    [InlineData(10_000, 0.01, 0.837758, -3.0480)]
    [InlineData(18_000, 0.02, 3.015929, -39.5027)]
    public void Rayleigh_parameter_and_coherent_loss_are_those_of_the_check(double frequency, double rms, double expected, double decibels)
    {
        double P = Roughness.RayleighParameter(frequency, rms, new Angle(0), 1500);
        Assert.Equal(expected, P, 1e-6);
        Assert.Equal(decibels, 20 * Math.Log10(Roughness.CoherentFactor(P)), 1e-4);
    }

    // c/(2B): 1650 m/s and 14 kHz give 5.893 cm; the two lateral rules meet at small angles, sin θ = L/(2R) (RT-07).
    [Fact]
    public void Resolution_rules_are_as_stated()
    {
        Assert.Equal(0.0589286, Resolution.Axial(1650, 14_000), 1e-7);
        double R = 50, L = 1;
        Angle half = new(Math.Asin(L / (2 * R)));
        Assert.Equal(Resolution.SyntheticAperture(0.15, R, L), Resolution.Lateral(0.15, half), 1e-12);
    }
}
