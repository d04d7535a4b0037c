using System.Numerics;
using Undersand.Acoustics;
using Undersand.Simulation;

namespace Undersand.Tests.Simulation;

public class SimulatorTests
{
    private const double R = 0.353312;   // checks.md WA-07, 1025 kg/m³ and 1500 m/s over 1950 and 1650, straight down.
    private const double BothWays = (1 + R) * (1 + R) * 1025 / 1950;

    [Fact]
    public void The_direct_arrival_is_the_chirp_after_distance_over_sound_speed()
    {
        SurveyPlan plan = SmallScenes.OnePing(SmallScenes.OneReceiver(0.4, 0.3)) with { Paths = new Paths { Seabed = false } };
        float[] got = SmallScenes.Trace(SmallScenes.Empty(), plan);
        Assert.InRange(SmallScenes.RelativeError(got, SmallScenes.Delayed(plan, 0.5 / 1500, 1800 / 0.5)), 0, 0.002);
    }

    [Fact]
    public void The_energy_of_the_direct_arrival_is_that_of_the_formula()
    {
        SurveyPlan plan = SmallScenes.OnePing(SmallScenes.OneReceiver(0.5)) with { Paths = new Paths { Seabed = false } };
        double energy = SmallScenes.Trace(SmallScenes.Empty(), plan).Sum(v => (double)v * v) * plan.SampleInterval;
        // Half the squared peak over the duration; a raised-cosine end of τ has 3τ/8 of its energy, so two lose 1.25 τ.
        Assert.Equal(0.5 * 3600 * 3600 * 0.005 * (1 - 1.25 * 0.1), energy, 0.005 * energy);
    }

    [Fact]
    public void A_flat_seabed_answers_like_the_image_of_the_source()
    {
        SurveyPlan plan = SmallScenes.OnePing(SmallScenes.OneReceiver(0, 0.6)) with { Paths = new Paths { Direct = 0 } };
        double r = Math.Sqrt(1.8 * 1.8 + 0.6 * 0.6), angle = Math.Atan2(0.3, 0.9);
        double reflection = new PlaneInterface(new Water(1500), new Sediment(1650, 1950, 0)).Reflection(new Angle(angle)).Real;
        float[] got = SmallScenes.Trace(SmallScenes.Empty(), plan);
        Assert.InRange(SmallScenes.RelativeError(got, SmallScenes.Delayed(plan, r / 1500, 1800 * reflection / r)), 0, 0.02);
    }

    // checks.md WA-25: at 10 kHz and a standard deviation of 1 cm the coherent echo loses 3.048 dB; e^(−P²/2), P = 2ks.
    [Fact]
    public void A_rough_seabed_loses_coherence_as_the_Rayleigh_parameter_says()
    {
        Scene rough = SmallScenes.Empty() with { Seabed = new SeabedShape(SmallScenes.East, SmallScenes.North, 6) { Roughness = new SeabedRoughness(0.01, 0.8, 0.2, 2) } };
        SurveyPlan plan = SmallScenes.OnePing() with
        {
            Paths = new Paths { Direct = 0 },
            SampleInterval = 20e-6,
            SampleCount = 600,
            Lines = [.. Enumerable.Range(0, 4).Select(i => new PlannedLine($"{i}", SmallScenes.East, SmallScenes.North + i, Angle.FromDegrees(90), 40, 1.6))],
        };
        Complex sum = 0;
        int count = 0;
        foreach (ISurveyLine line in Simulator.Lines(rough, plan, 5, 2))
            for (int p = 0; p < line.PingCount; p++, count++)
            {
                float[] trace = new float[line.SampleCount];
                line.Read(p, trace);
                sum += SmallScenes.Spectrum(trace, plan, 10_000);
            }
        Complex flat = SmallScenes.Spectrum(SmallScenes.Trace(SmallScenes.Empty(), plan), plan, 10_000);
        Assert.Equal(-3.048, 20 * Math.Log10((sum / count / flat).Magnitude), 0.7);
    }

    [Fact]
    public void A_point_below_the_vehicle_answers_with_the_spreading_of_a_refracted_tube()
    {
        Scene scene = SmallScenes.Empty() with { Objects = [SmallScenes.Point(0, 0, 0.5)] };
        SurveyPlan plan = SmallScenes.OnePing();
        double length = 0.9 + 0.5 * 1.1;
        double[] expected = SmallScenes.Delayed(plan, 2 * (0.9 / 1500 + 0.5 / 1650), 1800 * 0.05 * BothWays / (length * length));
        Assert.InRange(SmallScenes.RelativeError(SmallScenes.Trace(scene, plan), expected), 0, 0.002);
    }

    // checks.md SP-17: cast iron, a = 0.05 m, in 1950 kg/m³ and 1650 m/s; SP-16 for a rigid sphere of 1 m (|f| 0.998 at ka 50).
    [Theory]
    [InlineData(4000, -37.854)]
    [InlineData(8000, -38.169)]
    [InlineData(10000, -34.295)]
    [InlineData(18000, -29.115)]
    public void An_iron_sphere_answers_with_its_published_target_strength(double frequency, double expectedDb)
    {
        BuriedSphere shot = new("shot", SmallScenes.East, SmallScenes.North, 0.45, Material.Iron, Sphere.Elastic(0.05, 7200, 4994, 2809));
        Assert.Equal(expectedDb, MeasuredTargetStrength(shot, frequency), 0.05);
    }

    [Fact]
    public void A_great_rigid_sphere_answers_with_half_its_radius()
    {
        BuriedSphere ball = new("ball", SmallScenes.East, SmallScenes.North, 0.4, Material.Other, Sphere.Rigid(0.5));
        Assert.Equal(-12.0412, MeasuredTargetStrength(ball, 16_000), 0.1);
    }

    [Fact]
    public void Absorption_grows_with_frequency_and_path()
    {
        Scene lossless = SmallScenes.Empty() with { Objects = [SmallScenes.Point(0, 0, 1.35)] }, sandy = lossless with { Sediment = new Sediment(1650, 1950, 0.48) };
        SurveyPlan plan = SmallScenes.OnePing();
        float[] without = SmallScenes.Trace(lossless, plan), with = SmallScenes.Trace(sandy, plan);
        foreach (double f in new double[] { 5000, 8000, 11_000, 14_000, 17_000 })
        {
            double loss = 20 * Math.Log10(SmallScenes.Spectrum(with, plan, f).Magnitude / SmallScenes.Spectrum(without, plan, f).Magnitude);
            Assert.Equal(-0.48 * f / 1000 * 2.7, loss, 0.05);
        }
    }

    [Fact]
    public void A_soft_body_turns_the_sign_and_a_rigid_one_keeps_it()
    {
        SurveyPlan plan = SmallScenes.OnePing();
        double top = 2 * (0.9 / 1500 + 0.5 / 1650);
        Assert.True(Projected(Sphere.Rigid(0.3)) > 0);
        Assert.True(Projected(Sphere.Soft(0.3)) < 0);

        // The echo's projection on the chirp as it would return from the top.
        double Projected(Sphere body)
        {
            Scene scene = SmallScenes.Empty() with { Objects = [new BuriedSphere("ball", SmallScenes.East, SmallScenes.North, 0.5, Material.Gas, body)] };
            return SmallScenes.Projection(SmallScenes.Trace(scene, plan), plan, top);
        }
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(-0.3)]
    public void A_great_slab_answers_like_a_layer_and_both_like_a_mirror(double reflection)
    {
        SurveyPlan plan = SmallScenes.OnePing();
        Scene slab = SmallScenes.Empty() with { Objects = [new BuriedSlab("slab", SmallScenes.East, SmallScenes.North, 0.5, Material.Other, 4, 4, 20, default, reflection, 1600)] };
        Scene layer = SmallScenes.Empty() with { Layers = [new BuriedLayer(SmallScenes.East, SmallScenes.North, 0.5, reflection)] };
        double time = 2 * (0.9 / 1500 + 0.5 / 1650), expected = 1800 * reflection * (1 - R * R) / (2 * (0.9 + 0.5 * 1.1));
        Assert.Equal(1, SmallScenes.Projection(SmallScenes.Trace(layer, plan), plan, time) / expected, 0.005);
        Assert.Equal(1, SmallScenes.Projection(SmallScenes.Trace(slab, plan), plan, time) / expected, 0.05);
    }

    [Fact]
    public void A_dipping_layer_answers_from_where_its_time_is_least()
    {
        Scene scene = SmallScenes.Empty() with { Layers = [new BuriedLayer(SmallScenes.East, SmallScenes.North, 1, 0.2) { SlopeEast = 0.15, SlopeNorth = 0.1 }] };
        SurveyPlan plan = SmallScenes.OnePing(SmallScenes.OneReceiver(0, 0.5));
        SceneModel model = new(scene, plan, 1);
        Ping ping = Simulator.Lines(scene, plan)[0].PingAt(0);
        double least = double.MaxValue;
        for (double e = -0.6; e < 0.6; e += 0.005)
            for (double n = -0.8; n < 0.6; n += 0.005)
            {
                GridPoint place = new(SmallScenes.East + e, SmallScenes.North + n, 7 + 0.15 * e + 0.1 * n);
                least = Math.Min(least, model.Path.Between(ping.Source, place).Time + model.Path.Between(ping.Receivers[0].Position, place).Time);
            }
        float[] trace = SmallScenes.Trace(scene, plan);
        double peak = SmallScenes.Projection(trace, plan, least), energy = trace.Sum(v => (double)v * v), whole = SmallScenes.Delayed(plan, least, 1).Sum(v => v * v);
        Assert.Equal(1, peak / Math.Sqrt(energy / whole), 0.002);
    }

    [Fact]
    public void Nothing_arrives_before_the_first_possible_path()
    {
        Scene scene = SmallScenes.Empty() with
        {
            Seabed = new SeabedShape(SmallScenes.East, SmallScenes.North, 6) { SlopeEast = 0.02, Roughness = new SeabedRoughness(0.003) },
            Objects = [SceneParts.Ball("shot", SmallScenes.East + 0.5, SmallScenes.North, 0.2, 0.15, "iron, cast")],
        };
        SurveyPlan plan = SmallScenes.OnePing() with { Paths = new Paths { Direct = 0 } };
        float[] trace = SmallScenes.Trace(scene, plan);
        int first = (int)(2 * 0.87 / 1500 / plan.SampleInterval);
        Assert.True(trace.Take(first).Max(Math.Abs) < 1e-4 * trace.Max(Math.Abs));
    }

    [Fact]
    public void Source_and_receiver_may_change_places()
    {
        Scene scene = SmallScenes.Empty(0.48) with
        {
            Seabed = new SeabedShape(SmallScenes.East, SmallScenes.North, 6) { SlopeEast = 0.05, Ripples = [new Ripple(1.2, 0.05, Angle.FromDegrees(40))] },
            Objects =
            [
                SceneParts.Ball("shot", SmallScenes.East + 0.7, SmallScenes.North - 0.6, 0.6, 0.15, "iron, cast"),
                SmallScenes.Point(-0.4, 0.5, 0.9),
                new BuriedCylinder("bar", SmallScenes.East, SmallScenes.North + 0.3, 0.5, Material.Iron, 0.8, 0.2, Angle.FromDegrees(70), 0.8),
            ],
        };
        SurveyPlan one = SmallScenes.OnePing(SmallScenes.OneReceiver(0.7, 0.4));
        SurveyPlan other = one with { Array = one.Array with { Sources = one.Array.Receivers, Receivers = one.Array.Sources } };
        float[] there = SmallScenes.Trace(scene, one), back = SmallScenes.Trace(scene, other);
        Assert.InRange(SmallScenes.RelativeError(there, [.. back.Select(v => (double)v)]), 0, 0.01);
    }

    [Fact]
    public void The_echo_between_seabed_and_vehicle_returns_at_twice_the_height()
    {
        SurveyPlan plan = SmallScenes.OnePing() with { Paths = new Paths { Direct = 0, Seabed = false, Vehicle = 0.2 } };
        double[] expected = SmallScenes.Delayed(plan, 3.6 / 1500, 1800 * 0.2 * R * R / 3.6);
        Assert.InRange(SmallScenes.RelativeError(SmallScenes.Trace(SmallScenes.Empty(), plan), expected), 0, 0.002);
    }

    [Fact]
    public void The_surface_answers_with_the_other_sign()
    {
        SurveyPlan plan = SmallScenes.OnePing() with { Paths = new Paths { Direct = 1e-9, Seabed = false, Surface = -1 }, SampleCount = 2000 };
        double time = (5.1 + 6 + 0.9) / 1500;   // up from 5.1 m, down to the seabed at 6 m, up to the receiver.
        Assert.Equal(-1800 * R / 12 * 2, SmallScenes.Projection(SmallScenes.Trace(SmallScenes.Empty(), plan), plan, time), 1);
    }

    /// <summary>Spectral level of the echo over the chirp's, spreading and transmission taken out.</summary>
    private static double MeasuredTargetStrength(BuriedSphere sphere, double frequency)
    {
        SurveyPlan plan = SmallScenes.OnePing() with { Waveform = new Waveform(2000, 22000, 0.005, 0.1), SampleCount = 3000 };
        double length = 0.9 + (sphere.Burial + sphere.Body.Radius) * 1.1;
        Complex echo = SmallScenes.Spectrum(SmallScenes.Trace(SmallScenes.Empty() with { Objects = [sphere] }, plan), plan, frequency);
        Complex chirp = SmallScenes.Spectrum([.. SmallScenes.Delayed(plan, 0, 1800).Select(v => (float)v)], plan, frequency);
        return 20 * Math.Log10((echo / chirp).Magnitude * length * length / BothWays);
    }
}
