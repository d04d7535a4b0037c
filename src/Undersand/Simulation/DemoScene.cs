using Undersand.Acoustics;

namespace Undersand.Simulation;

/// <summary>The demonstration's scene and survey: our own invention. A sandy bottom, a dozen buried things, some decoys, six lines.</summary>
public static class DemoScene
{
    /// <summary>The fixed seed.</summary>
    public const int Seed = 20260504;

    private const double East = 430_000, North = 5_950_000;
    private const double IronInSand = 0.83, CeramicInSand = 0.34, TimberInSand = -0.30;

    /// <summary>What is really there.</summary>
    public static Scene Scene { get; } = new()
    {
        Name = "Saltgarden demo",
        Epsg = 32631,
        Water = new Water(1492.8, 1025, 11, 34.5),
        Sediment = new Sediment(1650, 1950, 0.48, "sand"),
        Seabed = new SeabedShape(East, North, 6)
        {
            SlopeEast = 0.012,
            SlopeNorth = -0.008,
            Ripples = [new Ripple(0.9, 0.020, Angle.FromDegrees(70)), new Ripple(0.28, 0.008, Angle.FromDegrees(55), Angle.FromDegrees(40))],
            Bumps = [new Bump(East + 15.5, North + 1.8, 0.10, 1.4), new Bump(East + 6, North - 2.2, -0.07, 1.1)],
            Roughness = new SeabedRoughness(0.003),
        },
        Objects = [.. Things(), .. Decoys()],
        Layers = [new BuriedLayer(East + 12, North, 2.0, 0.03) { SlopeEast = 0.035, SlopeNorth = 0.06, Undulations = [new Ripple(7, 0.12, Angle.FromDegrees(110))] }],
        Clutter = [new ClutterCloud(14, 1.2e-5, 0.7, 0.05, 2.6), new ClutterCloud(30, 2e-6, 1, 0, 0)],
    };

    /// <summary>How it is surveyed.</summary>
    public static SurveyPlan Plan { get; } = new()
    {
        Lines = [.. Enumerable.Range(0, 6).Select(Line)],
        Array = new ArrayDescription([new BodyOffset(0.25, 0, 0)], [.. Enumerable.Range(0, 14).Select(i => new BodyOffset(-0.1, 0.11 * (i - 6.5), 0.02))], [], []),
        Waveform = new Waveform(4000, 18000, 0.005, 0.1),
        SampleInterval = 20e-6,
        FirstSampleTime = 0.4e-3,
        SampleCount = 580,
        PingInterval = 0.25,
        Height = 1.0,
        StatedWater = new Water(1492.8, 1025, 11, 34.5),
        Motion = new Motion { Height = 0.035, CrossTrack = 0.05, Roll = Angle.FromDegrees(1.2), Pitch = Angle.FromDegrees(0.8), Heading = Angle.FromDegrees(1.5) },
        Paths = new Paths { Direct = 0.4, Vehicle = 0.12, Surface = -0.7 },
        Disturbances = new Disturbances
        {
            WhiteNoise = 0.8,
            ColouredNoise = 1.5,
            SilentReceivers = [9],
            DropOuts = 0.003,
            OtherSonar = new OtherSonar(0.04, 14_500, 0.4e-3, 90),
            Tones = [new SteadyTone(6_200, 1.2)],
        },
        Image = new ImageSettings(2.5, 0.05),
    };

    /// <summary>There and back by turns, 1.2 m apart.</summary>
    private static PlannedLine Line(int index)
    {
        bool back = index % 2 == 1;
        return new PlannedLine($"line-{index + 1:00}.sgy", East + (back ? 24 : 0), North + 1.2 * (index - 2.5), Angle.FromDegrees(back ? 270 : 90), 24, 0.8);
    }

    private static IEnumerable<SceneObject> Things() =>
    [
        SceneParts.Ball("iron shot, 12 cm", East + 2.2, North + 1.1, 0.35, 0.12, "iron, cast"),
        SceneParts.Ball("iron shot, 10 cm", East + 4.1, North - 0.6, 0.20, 0.10, "iron, cast"),
        SceneParts.Ball("iron shot, 15 cm", East + 20.3, North - 1.4, 0.80, 0.15, "iron, cast"),
        SceneParts.Ball("iron shell, 20 cm", East + 12.6, North + 2.3, 1.35, 0.20, "iron, cast"),
        SceneParts.Ball("ballast stone, 25 cm", East + 7.9, North + 2.2, 0.60, 0.25, "granite"),
        SceneParts.Ball("ballast stone, 30 cm", East + 22.1, North + 1.7, 1.10, 0.30, "granite"),
        SceneParts.BallastPile("ballast pile", East + 10.4, North - 1.9, 0.45, 1.1, 16, 0.24, 11),
        new BuriedCylinder("iron cannon", East + 16.2, North - 0.3, 0.70, Material.Iron, 1.6, 0.24, Angle.FromDegrees(62), IronInSand),
        SceneParts.Anchor("anchor", East + 6.4, North - 0.2, 0.50, 1.5, 0.10, Angle.FromDegrees(115), IronInSand),
        SceneParts.PotteryScatter("pottery", East + 13.4, North - 2.4, 0.28, 0.9, 22, 0.14, CeramicInSand, 12),
        new BuriedSlab("timber", East + 18.4, North + 2.2, 0.55, Material.Timber, 2.0, 0.28, 0.18, Angle.FromDegrees(20), TimberInSand, 1550),
        new BuriedSlab("iron plate", East + 10.6, North + 0.6, 0.95, Material.Iron, 0.7, 0.5, 0.02, Angle.FromDegrees(45), IronInSand, 4994),
    ];

    private static IEnumerable<SceneObject> Decoys() =>
    [
        new BuriedSphere("gas pocket", East + 2.9, North - 2.3, 0.90, Material.Gas, Sphere.Soft(0.10)) { IsDecoy = true },
        SceneParts.Ball("boulder at the seabed", East + 14.6, North + 0.9, -0.04, 0.35, "granite") with { IsDecoy = true },
        SceneParts.ShellBed("shell bed", East + 4.6, North + 2.4, 0.30, 1.8, 1.0, 260, 0.004, 13),
        SceneParts.Cable("modern cable", East + 19.6, North - 2.6, 0.25, 6, 0.04, Angle.FromDegrees(84)),
    ];
}
