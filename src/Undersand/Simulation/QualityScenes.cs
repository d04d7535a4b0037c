using Undersand.Acoustics;

namespace Undersand.Simulation;

/// <summary>The lists of scenes that the figures are measured on.</summary>
public static class QualityScenes
{
    private const double East = QualityPlans.East, North = QualityPlans.North;
    private const double QuietLength = 14, QuietWidth = 4;
    private const int SpheresInAScene = 6;

    private static readonly double[] s_diameters = [0.10, 0.15, 0.20, 0.30];
    private static readonly double[] s_burials = [0.3, 0.6, 1.0, 1.5, 2.0];
    private static readonly string[] s_stuffs = ["rigid", "iron, cast", "granite"];

    /// <summary>Every diameter, burial and stuff once, six to a scene, well apart, in sand as smooth and quiet as it gets: 10 scenes.</summary>
    public static IReadOnlyList<QualityScene> Quiet() => [.. AllSpheres().Chunk(SpheresInAScene)
        .Select((spheres, i) => new QualityScene($"quiet {i + 1}", QuietScene($"quiet {i + 1}", spheres, 900 + i), QualityPlans.Parallel(), 900 + i, QuietLength * QuietWidth))];

    /// <summary>One quiet scene under other arrays.</summary>
    public static IReadOnlyList<QualityScene> Arrays() =>
    [
        Mixed("array: line across", QualityPlans.Parallel(array: QualityPlans.Across())),
        Mixed("array: ring", QualityPlans.Parallel(array: QualityPlans.Ring())),
        Mixed("array: uneven", QualityPlans.Parallel(array: QualityPlans.Uneven())),
        Mixed("array: line along", QualityPlans.Parallel(array: Along())),
        Mixed("array: one receiver", QualityPlans.Parallel(lines: 5, spacing: 0.6, array: QualityPlans.One(), pingSpacing: 0.06)),
    ];

    /// <summary>One quiet scene in other bands.</summary>
    public static IReadOnlyList<QualityScene> Bands() =>
    [
        Mixed("band: 2–12 kHz", QualityPlans.Parallel(lowest: 2000, highest: 12_000)),
        Mixed("band: 4–18 kHz", QualityPlans.Parallel()),
        Mixed("band: 18–4 kHz, falling", QualityPlans.Parallel() with { Waveform = new Waveform(18_000, 4000, 0.005, 0.1) }),
        Mixed("band: 8–24 kHz", QualityPlans.Parallel(lowest: 8000, highest: 24_000)),
    ];

    /// <summary>One quiet scene from other heights.</summary>
    public static IReadOnlyList<QualityScene> Heights() => [.. new[] { 0.7, 1.0, 1.5, 3.0 }.Select(h => Mixed($"height: {h} m", QualityPlans.Parallel(height: h)))];

    /// <summary>One quiet scene whose surveyor states a sound speed in sediment that is wrong by 3 %.</summary>
    public static IReadOnlyList<QualityScene> WrongSediment() => [.. new[] { 0.97, 1.03 }.Select(factor => Mixed($"sediment speed stated × {factor}",
        QualityPlans.Parallel() with { StatedSediment = QualityPlans.Sand with { SoundSpeed = QualityPlans.Sand.SoundSpeed * factor } }))];

    /// <summary>Spheres at random in heavy, spiky clutter.</summary>
    /// <param name="count">How many scenes.</param>
    /// <param name="length">Metres of each.</param>
    public static IReadOnlyList<QualityScene> Clutter(int count = 8, double length = 24) => [.. Enumerable.Range(0, count).Select(i =>
    {
        RandomStream random = new(1000 + i, 701);
        List<SceneObject> spheres = [];
        for (double e = 2; e < length - 1.5; e += 2.4)
            spheres.Add(Sphere(s_diameters[(int)random.Uniform(0, 4)], random.Uniform(0.2, 1.6), s_stuffs[(int)random.Uniform(0, 3)], e, random.Uniform(-2.4, 2.4)));
        return Wide($"clutter {i + 1}", length, 1000 + i, spheres, SpikyClutter(), [], []);
    })];

    /// <summary>Scenes without an object: dipping layers, ripples, clutter, and all three, by turns.</summary>
    /// <param name="count">How many scenes.</param>
    /// <param name="length">Metres of each; its width is 8 m, so 16 of 24 m are 0.31 ha.</param>
    public static IReadOnlyList<QualityScene> NoObject(int count = 16, double length = 24) => [.. Enumerable.Range(0, count).Select(i =>
    {
        RandomStream random = new(1100 + i, 702);
        bool all = i % 4 == 3;
        IReadOnlyList<BuriedLayer> layers = all || i % 4 == 0 ? Layers(ref random, length) : [];
        IReadOnlyList<Ripple> ripples = all || i % 4 == 1 ? Ripples(ref random) : [];
        string name = (i % 4) switch { 0 => "layers", 1 => "ripples", 2 => "clutter", _ => "layers, ripples and clutter" };
        return Wide($"no object {i + 1}: {name}", length, 1100 + i, [], all || i % 4 == 2 ? SpikyClutter() : [], layers, ripples);
    })];

    private static IEnumerable<(double Diameter, double Burial, string Stuff)> AllSpheres() =>
        from stuff in s_stuffs from burial in s_burials from diameter in s_diameters select (diameter, burial, stuff);

    private static QualityScene Mixed(string name, SurveyPlan plan) => new(name,
        QuietScene(name, [(0.15, 0.3, "iron, cast"), (0.2, 0.6, "granite"), (0.3, 1.0, "rigid"), (0.1, 0.6, "iron, cast"), (0.2, 1.5, "iron, cast"), (0.3, 2.0, "granite")], 950),
        plan, 950, QuietLength * QuietWidth);

    private static Scene QuietScene(string name, IReadOnlyList<(double Diameter, double Burial, string Stuff)> spheres, int seed)
    {
        RandomStream random = new(seed, 703);
        List<SceneObject> objects = [];
        for (int i = 0; i < spheres.Count; i++)
            objects.Add(Sphere(spheres[i].Diameter, spheres[i].Burial, spheres[i].Stuff, 1.5 + 2.2 * i + random.Uniform(-0.1, 0.1), random.Uniform(-0.5, 0.5)));
        return Bare(name) with { Objects = objects };
    }

    private static QualityScene Wide(string name, double length, int seed, IReadOnlyList<SceneObject> objects, IReadOnlyList<ClutterCloud> clutter,
        IReadOnlyList<BuriedLayer> layers, IReadOnlyList<Ripple> ripples)
    {
        Scene bare = Bare(name);
        return new QualityScene(name, bare with { Objects = objects, Clutter = clutter, Layers = layers, Seabed = bare.Seabed with { Ripples = ripples } },
            QualityPlans.Parallel(lines: 6, spacing: 1.2, length: length, pingSpacing: 0.16, noise: 0.5), seed, length * 8);
    }

    private static Scene Bare(string name) => new()
    {
        Name = name,
        Water = QualityPlans.Water,
        Sediment = QualityPlans.Sand,
        Seabed = new SeabedShape(East, North, 6) { SlopeEast = 0.01, SlopeNorth = -0.006, Roughness = new SeabedRoughness(0.0015) },
    };

    private static BuriedSphere Sphere(double diameter, double burial, string stuff, double east, double north)
    {
        string name = $"{stuff}, {100 * diameter:0} cm, at {burial:0.00} m";
        return stuff == "rigid"
            ? new BuriedSphere(name, East + east, North + north, burial, Material.Other, Acoustics.Sphere.Rigid(0.5 * diameter))
            : SceneParts.Ball(name, East + east, North + north, burial, diameter, stuff);
    }

    private static ClutterCloud[] SpikyClutter() => [new(20, 2e-5, 0.6, 0.05, 2.5), new(40, 3e-6, 1, 0, 0)];

    private static BuriedLayer[] Layers(ref RandomStream random, double length)
    {
        BuriedLayer[] layers = new BuriedLayer[3];
        for (int i = 0; i < layers.Length; i++)
            layers[i] = new BuriedLayer(East + 0.5 * length, North, 0.5 + 0.6 * i, random.Uniform(0.02, 0.08) * (random.Uniform() < 0.5 ? -1 : 1))
            {
                SlopeEast = random.Uniform(-0.06, 0.06),
                SlopeNorth = random.Uniform(-0.1, 0.1),
                Undulations = [new Ripple(random.Uniform(3, 9), random.Uniform(0.02, 0.15), new Angle(random.Uniform(0, Math.PI)))],
            };
        return layers;
    }

    private static Ripple[] Ripples(ref RandomStream random) =>
    [
        new(random.Uniform(0.2, 0.4), random.Uniform(0.01, 0.03), new Angle(random.Uniform(0, Math.PI))),
        new(random.Uniform(0.8, 1.6), random.Uniform(0.02, 0.05), new Angle(random.Uniform(0, Math.PI))),
    ];

    private static ArrayDescription Along() =>
        new([new BodyOffset(0.15, 0, 0)], [.. Enumerable.Range(0, 8).Select(i => new BodyOffset(-0.1 - 0.12 * i, 0, 0.02))], [], []);
}
