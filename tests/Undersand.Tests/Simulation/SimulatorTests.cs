using Undersand.Acoustics;
using Undersand.Simulation;

namespace Undersand.Tests.Simulation;

public class SimulatorTests
{
    [Fact]
    public void The_direct_arrival_is_the_chirp_after_distance_over_sound_speed()
    {
        SurveyPlan plan = SmallScenes.OnePing(SmallScenes.OneReceiver(0.4, 0.3)) with { Paths = new Paths { Seabed = false } };
        float[] got = SmallScenes.Trace(SmallScenes.Empty(), plan);
        Assert.InRange(SmallScenes.RelativeError(got, SmallScenes.Delayed(plan, 0.5 / 1500, 1800 / 0.5)), 0, 0.01);
    }

    [Fact]
    public void A_flat_seabed_answers_like_the_image_of_the_source()
    {
        SurveyPlan plan = SmallScenes.OnePing() with { Paths = new Paths { Direct = 0 } };
        float[] got = SmallScenes.Trace(SmallScenes.Empty(), plan);
        double error = SmallScenes.RelativeError(got, SmallScenes.Delayed(plan, 1.8 / 1500, 1800 * 0.353312 / 1.8));
        Assert.InRange(error, 0, 0.03);
    }

    [Fact]
    public void A_point_below_the_vehicle_answers_with_the_spreading_of_a_refracted_tube()
    {
        Scene scene = SmallScenes.Empty() with { Objects = [new BuriedPoint("point", SmallScenes.East, SmallScenes.North, 0.5, Material.Other, 0.05)] };
        SurveyPlan plan = SmallScenes.OnePing();
        float[] got = SmallScenes.Trace(scene, plan);
        double length = 0.9 + 0.5 * 1.1, R = 0.353312;
        double[] expected = SmallScenes.Delayed(plan, 2 * (0.9 / 1500 + 0.5 / 1650), 1800 * 0.05 * (1 + R) * (1 + R) * 1025 / 1950 / (length * length));
        Assert.InRange(SmallScenes.RelativeError(got, expected), 0, 0.01);
    }
}
