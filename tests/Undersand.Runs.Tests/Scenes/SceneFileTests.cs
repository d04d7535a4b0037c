using Undersand.Runs.Scenes;
using Undersand.Runs.Tests.Support;
using Undersand.Simulation;

namespace Undersand.Runs.Tests.Scenes;

public sealed class SceneFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("undersand-scene-").FullName;

    [Theory]
    [InlineData("single-sphere.json", 1, 0, 0)]
    [InlineData("clutter-only.json", 0, 2, 0)]
    [InlineData("dipping-layers.json", 0, 0, 2)]
    [InlineData("ripples.json", 0, 0, 0)]
    public void Each_example_reads_without_a_caution(string name, int objects, int clouds, int layers)
    {
        SceneFile file = SceneFile.Read(Path.Combine(Repository.Root, "examples", "scenes", name));
        Assert.Empty(file.Cautions);
        Assert.Equal((objects, clouds, layers), (file.Scene.Objects.Count, file.Scene.Clutter.Count, file.Scene.Layers.Count));
        Assert.Equal(2, file.Plan.Lines.Count);
    }

    [Fact]
    public void Values_arrive_where_they_belong()
    {
        SceneFile file = SceneFile.Read(Path.Combine(Repository.Root, "examples", "scenes", "single-sphere.json"));
        BuriedSphere shot = Assert.IsType<BuriedSphere>(file.Scene.Objects[0]);
        Assert.Equal((430_004, 5_950_000.2, 0.6, 0.075, Material.Iron), (shot.Easting, shot.Northing, shot.Burial, shot.Body.Radius, shot.Material));
        Assert.Equal(new Sediment(1650, 1950, 0.48), file.Scene.Sediment);
        Assert.Equal(new Waveform(4000, 18000, 0.005, 0.1), file.Plan.Waveform);
        Assert.Equal((8, 580, 7, 0.5), (file.Plan.Array.Receivers.Count, file.Plan.SampleCount, file.Seed, file.Plan.Disturbances.WhiteNoise));
        Assert.Equal(270, file.Plan.Lines[1].Heading.Degrees, 1e-9);
    }

    [Fact]
    public void Every_kind_of_object_reads()
    {
        string objects = """
            [{"kind":"sphere","burial_m":1,"diameter_m":0.2,"material":"rigid"}, {"kind":"sphere","burial_m":1,"diameter_m":0.2,"material":"soft","decoy":true},
             {"kind":"cylinder","burial_m":1,"length_m":1,"diameter_m":0.2,"azimuth_deg":30,"reflection":0.8,"class":"iron"},
             {"kind":"slab","burial_m":1,"length_m":1,"width_m":0.2,"thickness_m":0.1,"reflection":-0.3,"sound_speed_m_s":1550,"class":"timber"},
             {"kind":"point","burial_m":1,"scattering_length_m":0.03}, {"kind":"anchor","burial_m":1,"length_m":1.5,"diameter_m":0.1,"reflection":0.8},
             {"kind":"ballast_pile","burial_m":1,"diameter_m":1,"stone_diameter_m":0.2,"pieces":5}, {"kind":"pottery","burial_m":1,"diameter_m":1,"sherd_length_m":0.1,"reflection":0.3,"pieces":5},
             {"kind":"shell_bed","burial_m":1,"length_m":1,"width_m":1,"scattering_length_m":0.004,"pieces":9}, {"kind":"cable","burial_m":1,"length_m":2,"diameter_m":0.04}]
            """;
        IReadOnlyList<SceneObject> read = SceneFile.Read(Changed("\"objects\": [", "\"objects\": " + objects + ", \"old\": [")).Scene.Objects;
        Assert.Equal(10, read.Count);
        Assert.Equal([1, 8, 9], read.Select((o, i) => (o, i)).Where(p => p.o.IsDecoy).Select(p => p.i));
        Assert.Equal(Material.Timber, read[3].Material);
    }

    [Theory]
    [InlineData("\"crs\": \"EPSG:32631\"", "\"crs\": \"somewhere\"", "crs: “somewhere” is no reference system")]
    [InlineData("\"material\": \"iron, cast\"", "\"material\": \"cheese\"", "objects[0].material: “cheese” is not in the built-in table")]
    [InlineData("\"kind\": \"sphere\"", "\"kind\": \"cube\"", "objects[0].kind: “cube” is no kind of object")]
    [InlineData("\"height_m\": 1.0", "\"height_m\": 7.0", "above the water")]
    [InlineData("\"sample_interval_s\": 2e-05", "\"sample_interval_s\": 5e-05", "half the sampling rate")]
    [InlineData("\"burial_m\": 0.6", "\"burial_m\": \"deep\"", "objects[0].burial_m: a number is expected here")]
    [InlineData("\"name\": \"line-01.sgy\"", "\"name\": \"../line-01.sgy\"", "no file name")]
    [InlineData("\"seed\": 7,", "\"seed\": 7", "not valid JSON")]
    public void What_is_wrong_is_said_in_one_sentence_with_its_place(string was, string becomes, string expected)
    {
        SurveyException wrong = Assert.Throws<SurveyException>(() => SceneFile.Read(Changed(was, becomes)));
        Assert.Contains(expected, wrong.Message);
        Assert.DoesNotContain('\n', wrong.Message);
    }

    [Fact]
    public void An_unknown_field_is_named()
    {
        SceneFile file = SceneFile.Read(Changed("\"burial_m\": 0.6", "\"burial_m\": 0.6, \"colour\": \"rust\""));
        Assert.Contains(file.Cautions, c => c.Text.Contains("objects[0].colour", StringComparison.Ordinal));
    }

    [Fact]
    public void A_missing_scene_is_refused() => Assert.Throws<SurveyException>(() => SceneFile.Read(Path.Combine(_folder, "none.json")));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string Changed(string was, string becomes)
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "examples", "scenes", "single-sphere.json"));
        Assert.Contains(was, text);
        string path = Path.Combine(_folder, "scene.json");
        File.WriteAllText(path, text.Replace(was, becomes, StringComparison.Ordinal));
        return path;
    }
}
