using CsCheck;
using Undersand.Acoustics;

namespace Undersand.Tests.Acoustics;

public class SpreadingTests
{
    private static readonly Water Water = new(1500);
    private static readonly Sediment Sand = new(1650, 1950, 0.48);
    private static readonly Sediment Lossless = new(1650, 1950, 0);

    [Fact]
    public void Without_a_boundary_the_amplitude_is_one_over_the_distance() =>
        RefractionTests.Geometries.Sample((h, z, x, c1, _) =>
            Math.Abs(Spreading.Amplitude(h, z, x, c1, c1) * double.Hypot(h + z, x) - 1) < 1e-10);

    [Fact]
    public void Straight_down_the_sediment_counts_by_the_ratio_of_speeds() =>
        Assert.Equal(1 / (0.9 + 1.1 * 2), Spreading.Amplitude(0.9, 2, 0, 1500, 1650), 1e-15);

    [Fact]
    public void On_the_seabed_the_amplitude_is_one_over_the_distance() =>
        Assert.Equal(1 / double.Hypot(0.9, 3), Spreading.Amplitude(0.9, 0, 3, 1500, 1650), 1e-15);

    // Law: a ray tube keeps its energy. Brute force: the tube's cross-section by differences of neighbouring rays.
    [Fact]
    public void A_ray_tube_keeps_its_energy() =>
        Gen.Select(Gen.Double[0.3, 2], Gen.Double[0.1, 3], Gen.Double[0.1, 3], Gen.Double[1350, 1900]).Sample((h, z, x, c2) =>
        {
            const double c1 = 1500, step = 1e-5;
            RefractedLeg a = Refraction.Leg(h, z, x - step, c1, c2), b = Refraction.Leg(h, z, x + step, c1, c2), mid = Refraction.Leg(h, z, x, c1, c2);
            double solidAngle = mid.SineInWater * (Math.Asin(b.SineInWater) - Math.Asin(a.SineInWater));
            double section = x * 2 * step * mid.CosineInSediment;
            // Intensity is p²/(ρc); transmission of the energy is left out by the factor cos θ₂/cos θ₁ that belongs to it.
            double expected = Math.Sqrt(solidAngle / section * mid.CosineInSediment / mid.CosineInWater);
            return Math.Abs(Spreading.Amplitude(h, z, x, c1, c2) / expected - 1) < 1e-4;
        });

    // Law: energy through the boundary. Over all rays that enter, the flow at a burial is the flow of the source less what is reflected.
    [Fact]
    public void The_flow_of_energy_through_a_buried_plane_is_what_the_seabed_lets_in()
    {
        Water water = new(1500, 1000);
        Sediment mud = new(1450, 1400, 0);
        PlaneInterface seabed = new(water, mud);
        double through = 0, entered = 0;
        const double h = 0.9, z = 1.3, step = 0.002;
        for (double x = step / 2; x < 6; x += step)
        {
            RefractedLeg leg = Refraction.Leg(h, z, x, water.SoundSpeed, mud.SoundSpeed);
            double p = Spreading.Amplitude(leg, water.SoundSpeed, mud.SoundSpeed) * seabed.TransmissionDown(new Angle(Math.Asin(leg.SineInWater))).Magnitude;
            through += p * p / (mud.Density * mud.SoundSpeed) * leg.CosineInSediment * 2 * Math.PI * x * step;
        }
        double last = Math.Asin(Refraction.Leg(h, z, 6, water.SoundSpeed, mud.SoundSpeed).SineInWater);
        const int rays = 20_000;
        for (int i = 0; i < rays; i++)
        {
            double theta = (i + 0.5) * last / rays;
            entered += seabed.TransmittedEnergy(new Angle(theta)) * 2 * Math.PI * Math.Sin(theta) * (last / rays) / (water.Density * water.SoundSpeed);
        }
        Assert.Equal(entered, through, 1e-5 * entered);
    }

    // Law: reciprocity. The way back, from a ray tube and a transmission coefficient of its own, is the way down times ρ₁/ρ₂.
    [Fact]
    public void The_way_back_is_the_way_down_times_the_ratio_of_densities() =>
        Gen.Select(Gen.Double[0.3, 2], Gen.Double[0.1, 3], Gen.Double[0, 3], Gen.Double[1350, 1900], Gen.Double[1200, 2200]).Sample((h, z, x, c2, rho2) =>
        {
            Sediment sediment = new(c2, rho2, 0);
            RefractedLeg down = Refraction.Leg(h, z, x, Water.SoundSpeed, c2);
            double theta2 = Math.Asin(down.SineInSediment);
            // Turned upside down: the source lies z below the boundary in a medium c2, the receiver h above it in a medium c1.
            double up = Spreading.Amplitude(z, h, x, c2, Water.SoundSpeed)
                * new PlaneInterface(Water.Density / rho2, Water.SoundSpeed / c2, 0).TransmissionDown(new Angle(theta2)).Magnitude;
            Water silent = Water with { Salinity = 0, Temperature = 10 };
            double expected = Spreading.ReturnLegAmplitude(h, z, x, silent, sediment, 0);
            return Math.Abs(up / expected - 1) < 1e-6;
        }, iter: 5000);

    // SE-15: 0.25 dB/m/kHz, 1.5 m burial, 10 kHz: 7.5 dB two ways, 3.75 dB one way.
    [Fact]
    public void Burial_costs_what_the_attenuation_says()
    {
        double with = Spreading.LegAmplitude(0.9, 1.5, 0, Water, new Sediment(1650, 1950, 0.25), 10_000);
        double without = Spreading.LegAmplitude(0.9, 1.5, 0, Water, Lossless, 10_000);
        Assert.Equal(3.75, 20 * Math.Log10(without / with), 0.002);
    }

    // Straight down, without loss: (1+R)/(h + z c₂/c₁), R = 0.353312 (WA-07); water absorption over 0.9 m at 10 kHz is 0.0009 dB.
    [Fact]
    public void Straight_down_a_leg_is_transmission_over_spreading() =>
        Assert.Equal(1.353312 / (0.9 + 1.1), Spreading.LegAmplitude(0.9, 1, 0, Water, Lossless, 10_000), 1e-4);

    [Fact]
    public void Deeper_and_farther_is_weaker()
    {
        Assert.True(Spreading.LegAmplitude(0.9, 2, 1, Water, Sand, 10_000) < Spreading.LegAmplitude(0.9, 1, 1, Water, Sand, 10_000));
        Assert.True(Spreading.LegAmplitude(0.9, 1, 2, Water, Sand, 10_000) < Spreading.LegAmplitude(0.9, 1, 1, Water, Sand, 10_000));
    }

    [Fact]
    public void Every_leg_has_a_finite_amplitude() =>
        RefractionTests.Geometries.Sample((h, z, x, c1, c2) =>
        {
            double a = Spreading.LegAmplitude(h, z, x, new Water(c1), new Sediment(c2, 1900, 0.5), 12_000);
            return double.IsFinite(a) && a >= 0;
        }, iter: 20_000);
}
