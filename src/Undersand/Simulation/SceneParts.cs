using Undersand.Acoustics;

namespace Undersand.Simulation;

/// <summary>Things made of several pieces. What is random in them comes from their own seed.</summary>
public static class SceneParts
{
    /// <summary>An iron anchor lying flat: a shank and two arms at its end towards the azimuth.</summary>
    /// <param name="name">What the truth calls it.</param>
    /// <param name="easting">Middle of the shank.</param>
    /// <param name="northing">Middle of the shank.</param>
    /// <param name="burial">Of its top.</param>
    /// <param name="length">Of the shank, metres.</param>
    /// <param name="bar">Diameter of shank and arms, metres.</param>
    /// <param name="azimuth">Of the shank.</param>
    /// <param name="reflection">Reflection coefficient of iron in the sediment.</param>
    public static BuriedGroup Anchor(string name, double easting, double northing, double burial, double length, double bar, Angle azimuth, double reflection)
    {
        double arm = 0.4 * length;
        (double s, double c) = Math.SinCos(azimuth.Radians);
        List<SceneObject> parts = [new BuriedCylinder(name, easting, northing, burial, Material.Iron, length, bar, azimuth, reflection)];
        foreach (double side in new[] { -1.0, 1.0 })
        {
            // Each arm runs back from the crown at 55° to the shank.
            double turn = side * 55 * Math.PI / 180, back = 0.5 * length - 0.5 * arm * Math.Cos(turn), aside = 0.5 * arm * Math.Sin(turn);
            parts.Add(new BuriedCylinder(name, easting + back * s + aside * c, northing + back * c - aside * s, burial, Material.Iron, arm, bar,
                new Angle(azimuth.Radians - turn), reflection));
        }
        return new BuriedGroup(name, easting, northing, burial, Material.Iron, length, 2 * arm * Math.Sin(55 * Math.PI / 180), bar, azimuth, parts);
    }

    /// <summary>A round heap of granite stones.</summary>
    /// <param name="name">What the truth calls it.</param>
    /// <param name="easting">Its middle.</param>
    /// <param name="northing">Its middle.</param>
    /// <param name="burial">Of the highest stone's top.</param>
    /// <param name="diameter">Of the heap, metres.</param>
    /// <param name="stones">How many.</param>
    /// <param name="stone">Greatest diameter of a stone, metres; the least is half of it.</param>
    /// <param name="seed">Of their places.</param>
    public static BuriedGroup BallastPile(string name, double easting, double northing, double burial, double diameter, int stones, double stone, int seed)
    {
        RandomStream random = new(seed, 601);
        MaterialRow granite = Row("granite");
        List<SceneObject> parts = [];
        double deepest = 0;
        for (int i = 0; i < stones; i++)
        {
            double r = 0.5 * diameter * Math.Sqrt(random.Uniform()), azimuth = random.Uniform(0, 2 * Math.PI);
            double size = stone * (1 - 0.125 * (int)random.Uniform(0, 5)), lower = i == 0 ? 0 : 0.5 * stone * (2 * r / diameter) + random.Uniform(0, 0.4 * stone);
            deepest = Math.Max(deepest, lower + size);
            parts.Add(new BuriedSphere(name, easting + r * Math.Sin(azimuth), northing + r * Math.Cos(azimuth), burial + lower, Material.Stone, Sphere.Of(0.5 * size, granite)));
        }
        return new BuriedGroup(name, easting, northing, burial, Material.Stone, diameter, diameter, deepest, default, parts);
    }

    /// <summary>Scattered sherds of pottery, each a small plate at a slant.</summary>
    /// <param name="name">What the truth calls it.</param>
    /// <param name="easting">Its middle.</param>
    /// <param name="northing">Its middle.</param>
    /// <param name="burial">Of the highest sherd.</param>
    /// <param name="diameter">Of the scatter, metres.</param>
    /// <param name="sherds">How many.</param>
    /// <param name="sherd">Greatest length of a sherd, metres; the least is half of it.</param>
    /// <param name="reflection">Reflection coefficient of ceramic in the sediment.</param>
    /// <param name="seed">Of their places.</param>
    public static BuriedGroup PotteryScatter(string name, double easting, double northing, double burial, double diameter, int sherds, double sherd,
        double reflection, int seed)
    {
        RandomStream random = new(seed, 602);
        List<SceneObject> parts = [];
        for (int i = 0; i < sherds; i++)
        {
            double r = 0.5 * diameter * Math.Sqrt(random.Uniform()), azimuth = random.Uniform(0, 2 * Math.PI), size = sherd * random.Uniform(0.5, 1);
            parts.Add(new BuriedSlab(name, easting + r * Math.Sin(azimuth), northing + r * Math.Cos(azimuth), burial + (i == 0 ? 0 : random.Uniform(0, 0.12)),
                Material.Ceramic, size, 0.7 * size, 0.012, new Angle(random.Uniform(0, 2 * Math.PI)), reflection, 3650)
            { Dip = new Angle(0.3 * random.Gaussian()) });
        }
        return new BuriedGroup(name, easting, northing, burial, Material.Ceramic, diameter, diameter, 0.15, default, parts);
    }

    /// <summary>A bed of shells: weak scatterers in a thin sheet. A decoy.</summary>
    /// <param name="name">What the truth calls it.</param>
    /// <param name="easting">Its middle.</param>
    /// <param name="northing">Its middle.</param>
    /// <param name="burial">Of its top.</param>
    /// <param name="length">Metres eastwards.</param>
    /// <param name="width">Metres northwards.</param>
    /// <param name="shells">How many.</param>
    /// <param name="scatteringLength">Root mean square of theirs, metres.</param>
    /// <param name="seed">Of their places.</param>
    public static BuriedGroup ShellBed(string name, double easting, double northing, double burial, double length, double width, int shells,
        double scatteringLength, int seed)
    {
        RandomStream random = new(seed, 603);
        List<SceneObject> parts = [];
        for (int i = 0; i < shells; i++)
            parts.Add(new BuriedPoint(name, easting + random.Uniform(-0.5, 0.5) * length, northing + random.Uniform(-0.5, 0.5) * width,
                burial + (i == 0 ? 0 : random.Uniform(0, 0.05)), Material.Other, scatteringLength * random.Gaussian()));
        return new BuriedGroup(name, easting, northing, burial, Material.Other, length, width, 0.05, Angle.FromDegrees(90), parts) { IsDecoy = true };
    }

    /// <summary>A straight cable, as a row of points. A decoy.</summary>
    /// <remarks>A thin rigid cylinder of radius a answers broadside with √(ka/4π) per metre of its length, here at 10 kHz in 1,650 m/s, times 0.8 for its small ka.</remarks>
    /// <param name="name">What the truth calls it.</param>
    /// <param name="easting">Its middle.</param>
    /// <param name="northing">Its middle.</param>
    /// <param name="burial">Of its top.</param>
    /// <param name="length">Metres.</param>
    /// <param name="diameter">Metres.</param>
    /// <param name="azimuth">Of its run.</param>
    public static BuriedGroup Cable(string name, double easting, double northing, double burial, double length, double diameter, Angle azimuth)
    {
        const double spacing = 0.03, wavenumber = 2 * Math.PI * 10_000 / 1650;
        int count = Math.Max(2, (int)(length / spacing));
        double each = 0.8 * Math.Sqrt(wavenumber * 0.5 * diameter / (4 * Math.PI)) * length / count;
        List<SceneObject> parts = [];
        for (int i = 0; i < count; i++)
        {
            double x = length * ((i + 0.5) / count - 0.5);
            parts.Add(new BuriedPoint(name, easting + x * Math.Sin(azimuth.Radians), northing + x * Math.Cos(azimuth.Radians), burial, Material.Other, each));
        }
        return new BuriedGroup(name, easting, northing, burial, Material.Other, length, diameter, diameter, azimuth, parts) { IsDecoy = true };
    }

    /// <summary>A sphere of a built-in material.</summary>
    /// <param name="name">What the truth calls it.</param>
    /// <param name="easting">Its middle.</param>
    /// <param name="northing">Its middle.</param>
    /// <param name="burial">Of its top.</param>
    /// <param name="diameter">Metres.</param>
    /// <param name="material">A row of <see cref="MaterialTable"/>.</param>
    public static BuriedSphere Ball(string name, double easting, double northing, double burial, double diameter, string material)
    {
        MaterialRow row = Row(material);
        return new BuriedSphere(name, easting, northing, burial, row.Class, Sphere.Of(0.5 * diameter, row));
    }

    private static MaterialRow Row(string name) => MaterialTable.TryFind(name, out MaterialRow? row)
        ? row!
        : throw new ArgumentException($"no material of the built-in table is called “{name}”", nameof(name));
}
