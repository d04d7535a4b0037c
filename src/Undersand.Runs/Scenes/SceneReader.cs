using System.Globalization;
using Undersand.Simulation;
using Undersand.Storage;

namespace Undersand.Runs.Scenes;

/// <summary>The part of a scene file that says what is there.</summary>
internal static class SceneReader
{
    public static Scene Scene(JsonFields root, Place origin) => new()
    {
        Name = root.NeedText("name"),
        Epsg = Epsg(root),
        Water = Water(root.Object("water")) ?? new Water(1500),
        Sediment = Sediment(root.Object("sediment")) ?? new Sediment(1650, 1950, 0.48),
        Seabed = Seabed(root.NeedObject("seabed"), origin),
        Objects = [.. root.Objects("objects").Select(o => ObjectReader.Object(o, origin))],
        Layers = [.. root.Objects("layers").Select(l => Layer(l, origin))],
        Clutter = [.. root.Objects("clutter").Select(Cloud)],
        SmallestBody = root.Number("smallest_body_m", 0.001, 10) ?? 0.1,
    };

    public static Water? Water(JsonFields? f)
    {
        if (f is null)
            return null;
        Water water = new(f.Need("sound_speed_m_s", 1300, 1700), f.Number("density_kg_m3", 900, 1300) ?? 1025, f.Number("temperature_c", -3, 45) ?? 10, f.Number("salinity", 0, 60) ?? 35);
        f.CautionUnknown();
        return water;
    }

    public static Sediment? Sediment(JsonFields? f)
    {
        if (f is null)
            return null;
        Sediment sediment = new(f.Need("sound_speed_m_s", 1000, 3000), f.Need("density_kg_m3", 1000, 3500), f.Need("attenuation_db_per_m_per_khz", 0, 10));
        f.CautionUnknown();
        return sediment;
    }

    private static int Epsg(JsonFields root)
    {
        string crs = root.NeedText("crs");
        return crs.StartsWith("EPSG:", StringComparison.OrdinalIgnoreCase) && int.TryParse(crs.AsSpan(5), NumberStyles.None, CultureInfo.InvariantCulture, out int epsg)
            ? epsg
            : throw root.Wrong("crs", $"“{crs}” is no reference system", "write the EPSG code of a projected system, for instance \"EPSG:32631\"");
    }

    private static SeabedShape Seabed(JsonFields f, Place origin)
    {
        JsonFields? rough = f.Object("roughness");
        SeabedShape seabed = new(origin.Easting, origin.Northing, f.Need("depth_m", 0.3, 12_000))
        {
            SlopeEast = f.Number("slope_east", -1, 1) ?? 0,
            SlopeNorth = f.Number("slope_north", -1, 1) ?? 0,
            Ripples = Ripples(f, "ripples"),
            Bumps = [.. f.Objects("bumps").Select(b => Known(b, new Bump(origin.East(b), origin.North(b), b.Need("height_m", -10, 10), b.Need("radius_m", 0.05, 1000))))],
            Roughness = rough is null ? null : Known(rough, new SeabedRoughness(rough.Need("sd_m", 0, 1), rough.Number("longest_m", 0.05, 100) ?? 2,
                rough.Number("shortest_m", 0.02, 100) ?? 0.1, rough.Number("exponent", 0, 6) ?? 3.2)),
        };
        return Known(f, seabed);
    }

    private static Ripple[] Ripples(JsonFields f, string name) =>
        [.. f.Objects(name).Select(r => Known(r, new Ripple(r.Need("wavelength_m", 0.05, 1e4), r.Need("height_m", 0, 10), r.Degrees("azimuth_deg"), r.Degrees("phase_deg"))))];

    private static BuriedLayer Layer(JsonFields f, Place origin) => Known(f, new BuriedLayer(origin.East(f), origin.North(f), f.Need("burial_m", 0, 100), f.Need("reflection", -1, 1))
    {
        SlopeEast = f.Number("slope_east", -1, 1) ?? 0,
        SlopeNorth = f.Number("slope_north", -1, 1) ?? 0,
        Undulations = Ripples(f, "undulations"),
    });

    private static ClutterCloud Cloud(JsonFields f) => Known(f, new ClutterCloud(f.Need("density_per_m3", 0, 1e5), f.Need("mean_cross_section_m2", 0, 10),
        f.Number("shape", 0.05, 100) ?? 1, f.Number("from_burial_m", 0, 100) ?? 0, f.Number("to_burial_m", 0, 100) ?? 0));

    private static T Known<T>(JsonFields fields, T value)
    {
        fields.CautionUnknown();
        return value;
    }
}
