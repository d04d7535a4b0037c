using Undersand.Acoustics;
using Undersand.Simulation;
using Undersand.Storage;

namespace Undersand.Runs.Scenes;

/// <summary>Reads the objects of a scene file.</summary>
internal static class ObjectReader
{
    private const string Kinds = "sphere, cylinder, slab, point, anchor, ballast_pile, pottery, shell_bed or cable";

    public static SceneObject Object(JsonFields f, Place origin)
    {
        string kind = f.NeedText("kind"), name = f.Text("name") ?? kind;
        double e = origin.East(f), n = origin.North(f), burial = f.Need("burial_m", -10, 100);
        SceneObject thing = kind switch
        {
            "sphere" => Sphere(f, name, e, n, burial),
            "cylinder" => new BuriedCylinder(name, e, n, burial, Class(f), Length(f), Diameter(f), f.Degrees("azimuth_deg"), Reflection(f)) { Dip = f.Degrees("dip_deg") },
            "slab" => new BuriedSlab(name, e, n, burial, Class(f), Length(f), f.Need("width_m", 0.001, 1000), f.Need("thickness_m", 0.001, 100), f.Degrees("azimuth_deg"),
                Reflection(f), f.Need("sound_speed_m_s", 100, 10_000)) { Dip = f.Degrees("dip_deg") },
            "point" => new BuriedPoint(name, e, n, burial, Class(f), f.Need("scattering_length_m", -100, 100)),
            "anchor" => SceneParts.Anchor(name, e, n, burial, Length(f), Diameter(f), f.Degrees("azimuth_deg"), Reflection(f)),
            "ballast_pile" => SceneParts.BallastPile(name, e, n, burial, Diameter(f), Pieces(f), f.Need("stone_diameter_m", 0.02, 5), Seed(f)),
            "pottery" => SceneParts.PotteryScatter(name, e, n, burial, Diameter(f), Pieces(f), f.Need("sherd_length_m", 0.01, 2), Reflection(f), Seed(f)),
            "shell_bed" => SceneParts.ShellBed(name, e, n, burial, Length(f), f.Need("width_m", 0.001, 1000), Pieces(f), f.Need("scattering_length_m", 0, 1), Seed(f)),
            "cable" => SceneParts.Cable(name, e, n, burial, Length(f), Diameter(f), f.Degrees("azimuth_deg")),
            _ => throw f.Wrong("kind", $"“{kind}” is no kind of object that is known here", $"write {Kinds}"),
        };
        thing = thing with { IsDecoy = f.Flag("decoy", thing.IsDecoy) };
        f.CautionUnknown();
        return thing;
    }

    private static BuriedSphere Sphere(JsonFields f, string name, double e, double n, double burial)
    {
        string material = f.NeedText("material");
        double diameter = Diameter(f);
        return material switch
        {
            "rigid" => new BuriedSphere(name, e, n, burial, Class(f), Acoustics.Sphere.Rigid(0.5 * diameter)),
            "soft" => new BuriedSphere(name, e, n, burial, f.Text("class") is null ? Material.Gas : Class(f), Acoustics.Sphere.Soft(0.5 * diameter)),
            _ when MaterialTable.TryFind(material, out _) => SceneParts.Ball(name, e, n, burial, diameter, material),
            _ => throw f.Wrong("material", $"“{material}” is not in the built-in table", $"write rigid, soft or one of {string.Join("; ", MaterialTable.Rows.Select(r => r.Name))}"),
        };
    }

    private static Material Class(JsonFields f) => f.Text("class") is not { } text ? Material.Other
        : Enum.TryParse(text, ignoreCase: true, out Material material) ? material
        : throw f.Wrong("class", $"“{text}” is no class of material", "write iron, stone, ceramic, timber, gas or other");

    private static double Length(JsonFields f) => f.Need("length_m", 0.01, 1000);

    private static double Diameter(JsonFields f) => f.Need("diameter_m", 0.005, 100);

    private static double Reflection(JsonFields f) => f.Need("reflection", -1, 1);

    private static int Pieces(JsonFields f) => f.Whole("pieces", 1, 100_000) ?? 20;

    private static int Seed(JsonFields f) => f.Whole("seed", 0, int.MaxValue) ?? 1;
}
