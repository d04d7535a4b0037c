using System.Numerics;
using CsCheck;
using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class PlaneInterfaceTests
{
    // r=1200/1023, ν=1600/1540 as two public libraries test it; with δ=0.2 at 0.5 rad the sign of Im goes with e^(−iωt) (SE-08, SE-09).
    [Fact]
    public void Reflection_agrees_with_published_tests()
    {
        Assert.Equal(0.0986, new PlaneInterface(1200.0 / 1023, 1600.0 / 1540, 0).Reflection(new Angle(0)).Real, 1e-4);
        Complex R = new PlaneInterface(1200.0 / 1023, 1600.0 / 1540, 0.2).Reflection(new Angle(0.5));
        Assert.Equal(0.085453, R.Real, 1e-6);
        Assert.Equal(0.127759, Math.Abs(R.Imaginary), 1e-6);
    }

    // Rough rock, r=2.5, ν=2.5, δ=0.01374: −2.8 dB, computed −2.804 (SE-10).
    [Fact]
    public void Rock_loses_2_8_decibels() =>
        Assert.Equal(-2.804, 20 * Math.Log10(new PlaneInterface(2.5, 2.5, 0.01374).Reflection(new Angle(0)).Magnitude), 0.0006);

    // 1025/1500 to 1950/1650 without loss (design check WA-07), by the formula of APL-UW TR 9407.
    [Theory]
    [InlineData(0, 0.353312)]
    [InlineData(20, 0.359470)]
    [InlineData(40, 0.387814)]
    [InlineData(60, 0.549585)]
    public void Oblique_reflection_off_sand_is_as_computed(double degrees, double expected) =>
        Assert.Equal(expected, Lossless.Reflection(Angle.FromDegrees(degrees)).Real, 1e-6);

    // 0.25 dB/m/kHz at 1650 m/s: δ = 0.0075584, and 54.5751 δ = 0.4125 dB per wavelength (SE-15).
    [Fact]
    public void Loss_parameter_is_that_of_its_decibels()
    {
        double delta = PlaneInterface.LossParameter(new Sediment(1650, 1950, 0.25));
        Assert.Equal(0.0075584, delta, 1e-7);
        Assert.Equal(0.4125, 54.5751 * delta, 1e-6);
    }

    // Law: beyond the critical angle all is reflected; with loss, a little less.
    [Theory]
    [InlineData(66)]
    [InlineData(80)]
    [InlineData(89.9)]
    public void Beyond_the_critical_angle_all_is_reflected(double degrees)
    {
        Assert.Equal(1, Lossless.Reflection(Angle.FromDegrees(degrees)).Magnitude, 1e-12);
        Assert.InRange(new PlaneInterface(1.9, 1.1, 0.016).Reflection(Angle.FromDegrees(degrees)).Magnitude, 0.5, 1 - 1e-6);
    }

    // Law: energy in is energy out, R² + T² (Z₁/Z₂)(cos θ₂/cos θ₁) = 1 (RT-05).
    [Fact]
    public void Without_loss_reflected_and_transmitted_energy_make_one() =>
        Gen.Select(Gen.Double[0.5, 3], Gen.Double[0.5, 3], Gen.Double[0, 89]).Sample((r, nu, degrees) =>
        {
            PlaneInterface seabed = new(r, nu, 0);
            Angle a = Angle.FromDegrees(degrees);
            return Math.Abs(seabed.ReflectedEnergy(a) + seabed.TransmittedEnergy(a) - 1) < 1e-9;
        });

    // Law: with loss, no more comes out than goes in (the power that enters is absorbed below).
    [Fact]
    public void With_loss_nothing_is_amplified() =>
        Gen.Select(Gen.Double[0.5, 3], Gen.Double[0.5, 3], Gen.Double[0, 0.1], Gen.Double[0, 89]).Sample((r, nu, delta, degrees) =>
            new PlaneInterface(r, nu, delta).ReflectedEnergy(Angle.FromDegrees(degrees)) <= 1 + 1e-12);

    // Law (Stokes): seen from below along the same ray R changes sign, and T↓T↑ = 1 − R².
    [Fact]
    public void From_below_the_coefficient_changes_sign() =>
        Gen.Select(Gen.Double[1, 3], Gen.Double[1, 1.5], Gen.Double[0, 40]).Sample((r, nu, degrees) =>
        {
            Angle above = Angle.FromDegrees(degrees), below = new(Math.Asin(nu * Math.Sin(above.Radians)));
            PlaneInterface down = new(r, nu, 0), up = new(1 / r, 1 / nu, 0);
            return Complex.Abs(down.Reflection(above) + up.Reflection(below)) < 1e-9
                && Complex.Abs(down.TransmissionUp(above) - up.TransmissionDown(below)) < 1e-9
                && Complex.Abs(down.TransmissionDown(above) * down.TransmissionUp(above) - (1 - down.Reflection(above) * down.Reflection(above))) < 1e-9;
        });

    // RT-05 (common practice, no source): a slab's lower side answers with the opposite sign.
    [Fact]
    public void The_lower_side_of_a_slab_reflects_with_the_opposite_sign() =>
        Assert.True(PlaneInterface.NormalReflection(1950, 1650, 7200, 4994) * PlaneInterface.NormalReflection(7200, 4994, 1950, 1650) < 0);

    // The sand of the contract's example under 1025/1500: 0.3533 (SE-14).
    [Fact]
    public void The_example_sand_reflects_0_3533() =>
        Assert.Equal(0.3533, PlaneInterface.NormalReflection(1025, 1500, 1950, 1650), 1e-4);

    [Fact]
    public void Impossible_media_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new PlaneInterface(0, 1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new PlaneInterface(1, double.NaN, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new PlaneInterface(1, 1, -1));
    }

    private static PlaneInterface Lossless => new(new Water(1500), new Sediment(1650, 1950, 0));
}
