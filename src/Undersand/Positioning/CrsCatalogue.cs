using System.Diagnostics.CodeAnalysis;

namespace Undersand.Positioning;

/// <summary>The projected reference systems this program knows, from the EPSG register (names, codes and parameters read back from PROJ 9.1.1 by the tests).</summary>
internal static class CrsCatalogue
{
    /// <summary>The families, for people.</summary>
    public const string Families =
        "WGS 84 / UTM (32601–32660, 32701–32760), ETRS89 / UTM (25828–25838), NAD83 / UTM (26901–26923), NAD83(2011) / UTM (6328–6348), "
        + "GDA94 / MGA (28348–28358), GDA2020 / MGA (7846–7859), SIRGAS 2000 / UTM (31965–31985), JGD2000 / UTM (3097–3101), JGD2011 / UTM (6688–6692), "
        + "NZGD2000 (2133–2135, 2193), SWEREF99 TM (3006), TM35FIN (3067), Irish TM (2157), Portugal TM06 (3763)";

    private static readonly GeographicCrs Etrs89 = new("ETRS89", 4258, "European_Terrestrial_Reference_System_1989", "European Terrestrial Reference System 1989", 6258, Ellipsoid.Grs80);
    private static readonly GeographicCrs Nad83 = new("NAD83", 4269, "North_American_Datum_1983", "North American Datum 1983", 6269, Ellipsoid.Grs80);
    private static readonly GeographicCrs Nad83Of2011 = new("NAD83(2011)", 6318, "NAD83_National_Spatial_Reference_System_2011", "NAD83 (National Spatial Reference System 2011)", 1116, Ellipsoid.Grs80);
    private static readonly GeographicCrs Gda94 = new("GDA94", 4283, "Geocentric_Datum_of_Australia_1994", "Geocentric Datum of Australia 1994", 6283, Ellipsoid.Grs80);
    private static readonly GeographicCrs Gda2020 = new("GDA2020", 7844, "Geocentric_Datum_of_Australia_2020", "Geocentric Datum of Australia 2020", 1168, Ellipsoid.Grs80);
    private static readonly GeographicCrs Sirgas = new("SIRGAS 2000", 4674, "Sistema_de_Referencia_Geocentrico_para_las_AmericaS_2000", "Sistema de Referencia Geocentrico para las AmericaS 2000", 6674, Ellipsoid.Grs80);
    private static readonly GeographicCrs Jgd2000 = new("JGD2000", 4612, "Japanese_Geodetic_Datum_2000", "Japanese Geodetic Datum 2000", 6612, Ellipsoid.Grs80);
    private static readonly GeographicCrs Jgd2011 = new("JGD2011", 6668, "Japanese_Geodetic_Datum_2011", "Japanese Geodetic Datum 2011", 1128, Ellipsoid.Grs80);
    private static readonly GeographicCrs Nzgd2000 = new("NZGD2000", 4167, "New_Zealand_Geodetic_Datum_2000", "New Zealand Geodetic Datum 2000", 6167, Ellipsoid.Grs80);
    private static readonly GeographicCrs Sweref99 = new("SWEREF99", 4619, "SWEREF99", "SWEREF99", 6619, Ellipsoid.Grs80);
    private static readonly GeographicCrs Irenet95 = new("IRENET95", 4173, "IRENET95", "IRENET95", 6173, Ellipsoid.Grs80);

    // A run of codes, one a zone: code First is zone FirstZone, and so on.
    private sealed record Run(int First, int Last, int FirstZone, bool South, GeographicCrs Base, string Grid)
    {
        public string Name(int zone) => Grid == "MGA" ? $"{Base.Name} / MGA zone {zone}" : $"{Base.Name} / UTM zone {zone}{(South ? 'S' : 'N')}";
    }

    private static readonly Run[] Runs =
    [
        new(32601, 32660, 1, false, GeographicCrs.Wgs84, "UTM"),
        new(32701, 32760, 1, true, GeographicCrs.Wgs84, "UTM"),
        new(25828, 25838, 28, false, Etrs89, "UTM"),
        new(26901, 26923, 1, false, Nad83, "UTM"),
        new(6328, 6329, 59, false, Nad83Of2011, "UTM"),
        new(6330, 6348, 1, false, Nad83Of2011, "UTM"),
        new(28348, 28358, 48, true, Gda94, "MGA"),
        new(7846, 7859, 46, true, Gda2020, "MGA"),
        new(31965, 31976, 11, false, Sirgas, "UTM"),
        new(31977, 31985, 17, true, Sirgas, "UTM"),
        new(3097, 3101, 51, false, Jgd2000, "UTM"),
        new(6688, 6692, 51, false, Jgd2011, "UTM"),
        new(2133, 2135, 58, true, Nzgd2000, "UTM"),
    ];

    private static readonly Dictionary<int, (string Name, GeographicCrs Base, ProjectionParameters Projection)> National = new()
    {
        [2193] = ("NZGD2000 / New Zealand Transverse Mercator 2000", Nzgd2000, new(0, 173, 0.9996, 1600000, 10000000)),
        [3006] = ("SWEREF99 TM", Sweref99, new(0, 15, 0.9996, 500000, 0)),
        [3067] = ("ETRS89 / TM35FIN(E,N)", Etrs89, new(0, 27, 0.9996, 500000, 0)),
        [2157] = ("IRENET95 / Irish Transverse Mercator", Irenet95, new(53.5, -8, 0.99982, 600000, 750000)),
        [3763] = ("ETRS89 / Portugal TM06", Etrs89, new(39 + 40 / 60.0 + 5.73 / 3600, -(8 + 7 / 60.0 + 59.19 / 3600), 1, 0, 0)),
    };

    public static bool TryFind(int epsg, out string name, [NotNullWhen(true)] out GeographicCrs? geographic, out ProjectionParameters projection)
    {
        if (National.TryGetValue(epsg, out var national))
        {
            (name, geographic, projection) = national;
            return true;
        }

        foreach (Run run in Runs.Where(r => epsg >= r.First && epsg <= r.Last))
        {
            int zone = run.FirstZone + epsg - run.First;
            name = run.Name(zone);
            geographic = run.Base;
            projection = new(0, 6 * zone - 183, 0.9996, 500000, run.South ? 10000000 : 0);
            return true;
        }

        (name, geographic, projection) = ("", null, default);
        return false;
    }
}
