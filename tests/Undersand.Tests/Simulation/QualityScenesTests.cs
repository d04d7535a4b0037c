using Undersand.Simulation;

namespace Undersand.Tests.Simulation;

public class QualityScenesTests
{
    [Fact]
    public void Quiet_scenes_hold_every_diameter_burial_and_stuff_once()
    {
        BuriedSphere[] spheres = [.. QualityScenes.Quiet().SelectMany(s => s.Scene.Objects).Cast<BuriedSphere>()];
        Assert.Equal(60, spheres.Select(s => (s.Body, s.Burial)).Distinct().Count());
        Assert.Equal((0.05, 0.15, 0.3, 2.0), (spheres.Min(s => s.Body.Radius), spheres.Max(s => s.Body.Radius), spheres.Min(s => s.Burial), spheres.Max(s => s.Burial)));
    }

    [Fact]
    public void Scenes_without_an_object_cover_three_tenths_of_a_hectare()
    {
        IReadOnlyList<QualityScene> scenes = QualityScenes.NoObject();
        Assert.True(scenes.Sum(s => s.Area) >= 3000);
        Assert.All(scenes, s => Assert.Empty(s.Scene.Objects));
        Assert.All(scenes, s => Assert.True(s.Scene.Layers.Count + s.Scene.Clutter.Count + s.Scene.Seabed.Ripples.Count > 0));
    }

    [Fact]
    public void Names_and_seeds_of_a_list_are_its_own()
    {
        foreach (IReadOnlyList<QualityScene> list in new[] { QualityScenes.Quiet(), QualityScenes.Clutter(), QualityScenes.NoObject() })
            Assert.Equal(list.Count, list.Select(s => (s.Name, s.Seed)).Distinct().Count());
    }

    [Fact]
    public void Spheres_lie_under_the_lines_and_apart()
    {
        foreach (QualityScene s in QualityScenes.Quiet().Concat(QualityScenes.Clutter()).Concat(QualityScenes.Heights()))
        {
            double length = s.Plan.Lines[0].Length;
            Assert.All(s.Scene.Objects, o => Assert.InRange(o.Easting - QualityPlans.East, 1, length - 1));
            foreach ((SceneObject a, SceneObject b) in s.Scene.Objects.Zip(s.Scene.Objects.Skip(1)))
                Assert.True(b.Easting - a.Easting > 1.5);
        }
    }

    [Fact]
    public void Every_array_and_the_extremes_of_band_and_height_simulate_a_ping()
    {
        foreach (QualityScene s in QualityScenes.Arrays().Concat([QualityScenes.Bands()[0], QualityScenes.Bands()[^1], QualityScenes.Heights()[^1]]))
        {
            SurveyPlan one = s.Plan with { Lines = [s.Plan.Lines[0] with { Length = 0 }] };
            SimulatedSurvey made = Simulator.Run(s.Scene with { Objects = [.. s.Scene.Objects.Take(1)] }, one, s.Seed, cancellation: TestContext.Current.CancellationToken);
            float[] ping = new float[one.Array.Receivers.Count * one.SampleCount];
            made.Lines[0].Read(0, ping);
            Assert.All(ping, v => Assert.True(float.IsFinite(v)));
            Assert.True(ping.Max(Math.Abs) * one.PascalPerUnit > 50);
        }
    }

    [Fact]
    public void The_demonstration_has_a_dozen_bodies_and_decoys_within_its_lines()
    {
        Scene scene = DemoScene.Scene;
        Assert.Equal((12, 4), (scene.Objects.Count(o => !o.IsDecoy), scene.Objects.Count(o => o.IsDecoy)));
        Assert.All(scene.Objects, o => Assert.True(o.Easting is > 430_001 and < 430_023 && Math.Abs(o.Northing - 5_950_000) < 3.2));
    }
}
