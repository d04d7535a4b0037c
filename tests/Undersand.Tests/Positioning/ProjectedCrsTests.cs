using System.Globalization;
using CsCheck;
using Undersand.Positioning;

namespace Undersand.Tests.Positioning;

public sealed class ProjectedCrsTests
{
    // tests/data/checks/utm_points.csv: pyproj 3.4.1 on PROJ 9.1.1; holds checks FO-24, FO-25, FO-27 and FO-29.
    public static TheoryData<int, double, double, double, double, double, double> UtmPoints() => Table("utm_points.csv", r =>
        ((int)r[0], r[1], r[2], r[3], r[4], r[5], r[6]));

    [Theory]
    [MemberData(nameof(UtmPoints))]
    public void A_place_projects_to_the_published_easting_northing_scale_and_convergence(
        int epsg, double lon, double lat, double easting, double northing, double scale, double convergence)
    {
        ProjectedCrs crs = Crs(epsg);
        GridPoint point = crs.FromGeo(new GeoPoint(lon, lat), depth: 7);
        Assert.Equal(easting, point.Easting, 2e-6);
        Assert.Equal(northing, point.Northing, 2e-6);
        Assert.Equal(7, point.Depth);
        Assert.Equal(scale, crs.ScaleAt(point), 1e-9);
        Assert.Equal(convergence, crs.ConvergenceAt(point).Degrees, 2e-9);
    }

    // Check FO-29: the GeoConvert manual gives 31s 500000 9889470 for latitude −1, longitude 3.
    [Fact]
    public void The_manual_of_geoconvert_agrees_to_its_metre()
    {
        GridPoint point = Crs(32731).FromGeo(new GeoPoint(3, -1));
        Assert.Equal(500000, Math.Round(point.Easting));
        Assert.Equal(9889470, Math.Round(point.Northing));
    }

    // Check FO-16: CF-1.11, appendix F, and pyproj's CRS.to_cf.
    [Fact]
    public void The_grid_mapping_is_that_of_the_cf_conventions()
    {
        var cf = Crs(32631).CfAttributes;
        Assert.Equal("transverse_mercator", cf["grid_mapping_name"]);
        Assert.Equal(0.0, cf["latitude_of_projection_origin"]);
        Assert.Equal(3.0, cf["longitude_of_central_meridian"]);
        Assert.Equal(0.9996, cf["scale_factor_at_central_meridian"]);
        Assert.Equal(500000.0, cf["false_easting"]);
        Assert.Equal(0.0, cf["false_northing"]);
        Assert.Equal(6378137.0, cf["semi_major_axis"]);
        Assert.Equal(298.257223563, cf["inverse_flattening"]);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4326)]
    [InlineData(32600)]
    [InlineData(32661)]
    [InlineData(32761)]
    [InlineData(27700)] // British National Grid: its datum is 100 m from WGS 84.
    [InlineData(-1)]
    public void A_system_that_is_not_known_is_refused(int epsg) => Assert.False(ProjectedCrs.TryFromEpsg(epsg, out _));

    [Fact]
    public void There_and_back_is_where_we_were() =>
        (from zone in Gen.Int[1, 60] from south in Gen.Bool from e in Gen.Double[100_000, 900_000] from n in Gen.Double[0, 9_300_000] select (zone, south, e, n)).Sample(t =>
        {
            ProjectedCrs crs = Crs((t.south ? 32700 : 32600) + t.zone);
            var point = new GridPoint(t.e, t.south ? 10_000_000 - t.n : t.n, 0);
            Assert.True(crs.FromGeo(crs.ToGeo(point)).HorizontalDistanceTo(point) < 1e-7);
        });

    [Fact]
    public void East_and_west_of_the_central_meridian_are_mirror_images() =>
        (from dlon in Gen.Double[0, 6] from lat in Gen.Double[-80, 80] select (dlon, lat)).Sample(t =>
        {
            ProjectedCrs crs = Crs(32631);
            GridPoint east = crs.FromGeo(new GeoPoint(3 + t.dlon, t.lat)), west = crs.FromGeo(new GeoPoint(3 - t.dlon, t.lat));
            Assert.Equal(500000 - west.Easting, east.Easting - 500000, 1e-7);
            Assert.Equal(west.Northing, east.Northing, 1e-7);
            Assert.Equal(-crs.ConvergenceAt(west).Radians, crs.ConvergenceAt(east).Radians, 1e-14);
        });

    [Fact]
    public void A_zone_across_the_date_line_is_whole()
    {
        ProjectedCrs crs = Crs(32660);
        GridPoint point = crs.FromGeo(new GeoPoint(-179.5, -17));
        Assert.InRange(point.Easting, 700_000, 900_000);
        Assert.Equal(-179.5, crs.ToGeo(point).Longitude, 1e-10);
    }

    [Theory]
    [InlineData(91)]
    [InlineData(double.NaN)]
    public void A_latitude_that_is_none_is_refused(double latitude) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Crs(32631).FromGeo(new GeoPoint(3, latitude)));

    // tests/data/checks/geodesics_wgs84.csv: GeodSolve; holds checks FO-30 to FO-32. This checks the reference the next tests stand on.
    public static TheoryData<double, double, double, double, double, double, double> Geodesics() => Table("geodesics_wgs84.csv", r =>
        (r[^7], r[^6], r[^5], r[^4], r[^3], r[^2], r[^1]));

    [Theory]
    [MemberData(nameof(Geodesics))]
    public void The_reference_geodesic_is_the_published_one(double lat1, double lon1, double lat2, double lon2, double distance, double azimuth1, double azimuth2)
    {
        var found = GeodesicReference.Inverse(lat1, lon1, lat2, lon2);
        Assert.Equal(distance, found.Distance, 2e-6);
        Assert.Equal(azimuth1, found.Azimuth1, 2e-7);
        Assert.Equal(azimuth2, found.Azimuth2, 2e-7);
    }

    [Fact]
    public void Scale_turns_a_geodesic_distance_into_a_grid_distance() => Neighbours.Sample(t =>
    {
        var (crs, a, b) = t;
        double scale = (crs.ScaleAt(a) + 4 * crs.ScaleAt(a.MidpointTo(b)) + crs.ScaleAt(b)) / 6;
        Assert.Equal(a.HorizontalDistanceTo(b), Geodesic(crs, a, b).Distance * scale, 2e-6);
    });

    // The chord on the grid and the geodesic part by at most 2 µrad over 500 m at the zone's edge (the arc-to-chord correction).
    [Fact]
    public void Convergence_turns_a_true_azimuth_into_a_grid_azimuth() => Neighbours.Sample(t =>
    {
        var (crs, a, b) = t;
        double onGrid = Math.Atan2(b.Easting - a.Easting, b.Northing - a.Northing);
        double predicted = Angle.FromDegrees(Geodesic(crs, a, b).Azimuth1).Radians - crs.ConvergenceAt(a).Radians;
        Assert.True(Math.Abs(Math.IEEERemainder(onGrid - predicted, 2 * Math.PI)) < 4e-6);
    });

    private static readonly Gen<(ProjectedCrs Crs, GridPoint A, GridPoint B)> Neighbours =
        from south in Gen.Bool
        from e in Gen.Double[200_000, 800_000]
        from n in Gen.Double[100_000, 8_500_000]
        from distance in Gen.Double[100, 500]
        from azimuth in Gen.Double[0, 2 * Math.PI]
        let a = new GridPoint(e, south ? 10_000_000 - n : n, 0)
        select (Crs(south ? 32731 : 32631), a, new GridPoint(a.Easting + distance * Math.Sin(azimuth), a.Northing + distance * Math.Cos(azimuth), 0));

    private static (double Distance, double Azimuth1, double Azimuth2) Geodesic(ProjectedCrs crs, GridPoint a, GridPoint b)
    {
        GeoPoint p = crs.ToGeo(a), q = crs.ToGeo(b);
        return GeodesicReference.Inverse(p.Latitude, p.Longitude, q.Latitude, q.Longitude);
    }

    private static ProjectedCrs Crs(int epsg) => ProjectedCrs.TryFromEpsg(epsg, out ProjectedCrs? crs) ? crs : throw new ArgumentException($"EPSG:{epsg}");

    private static TheoryData<T1, double, double, double, double, double, double> Table<T1>(
        string name, Func<double[], (T1, double, double, double, double, double, double)> pick)
    {
        var rows = new TheoryData<T1, double, double, double, double, double, double>();
        foreach (string line in File.ReadLines(Find(name)).Skip(1))
        {
            // Names, which may hold commas, come first; the numbers are the last seven cells.
            double[] cells = [.. line.Split(',').TakeLast(7).Select(c => double.Parse(c, CultureInfo.InvariantCulture))];
            var (a, b, c, d, e, f, g) = pick(cells);
            rows.Add(a, b, c, d, e, f, g);
        }

        return rows;
    }

    private static string Find(string name)
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Undersand.slnx")))
                return Path.Combine(folder.FullName, "tests", "data", "checks", name);
        throw new FileNotFoundException(name);
    }
}
