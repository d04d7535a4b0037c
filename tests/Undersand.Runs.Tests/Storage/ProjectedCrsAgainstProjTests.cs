using System.Globalization;
using Undersand.Positioning;
using Undersand.Runs.Tests.Support;

namespace Undersand.Runs.Tests.Storage;

/// <summary>Every reference system known here, held against PROJ through GDAL's Python.</summary>
public sealed class ProjectedCrsAgainstProjTests
{
    private static readonly ProjectedCrs[] All =
        [.. Enumerable.Range(1, 65535).Select(code => ProjectedCrs.TryFromEpsg(code, out ProjectedCrs? crs) ? crs : null).OfType<ProjectedCrs>()];

    private static readonly double[] Longitudes = [-9.5, -3, -0.4, 0, 1, 5, 9.5], Latitudes = [-79, -33, 0, 0.5, 25, 52, 79];

    [Fact]
    public void Places_agree_to_a_tenth_of_a_millimetre_within_ten_degrees()
    {
        string[] said = Ask(
            """
            import sys
            from osgeo import osr
            osr.UseExceptions()
            out = []
            for line in open(sys.argv[1]):
                c = line.rstrip('\n').split('\t')
                s = osr.SpatialReference(); s.ImportFromEPSG(int(c[0])); g = s.CloneGeogCS()
                s.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER); g.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
                t = osr.CoordinateTransformation(g, s)
                m = float(c[3])
                for lon in [%LON%]:
                    for lat in [%LAT%]:
                        x, y, z = t.TransformPoint((m + lon + 180) % 360 - 180, lat)
                        out.append('%.6f %.6f' % (x, y))
            print('\n'.join(out))
            """.Replace("%LON%", string.Join(",", Longitudes)).Replace("%LAT%", string.Join(",", Latitudes)));
        double worst = 0;
        int i = 0;
        foreach (ProjectedCrs crs in All)
        {
            foreach (double lon in Longitudes)
            {
                foreach (double lat in Latitudes)
                {
                    double[] proj = [.. said[i++].Split(' ').Select(double.Parse)];
                    GridPoint ours = crs.FromGeo(new GeoPoint(crs.CentralMeridian + lon, lat));
                    worst = Math.Max(worst, ours.HorizontalDistanceTo(new GridPoint(proj[0], proj[1], 0)));
                }
            }
        }

        Assert.Equal(said.Length, i);
        Assert.True(worst < 1e-4, $"{worst} m");
    }

    [Fact]
    public void Names_and_both_well_known_texts_are_what_the_register_says()
    {
        string[] said = Ask(
            """
            import sys
            from osgeo import osr
            osr.UseExceptions()
            for line in open(sys.argv[1]):
                c = line.rstrip('\n').split('\t')
                s = osr.SpatialReference(); s.ImportFromEPSG(int(c[0]))
                w1 = osr.SpatialReference(); w1.ImportFromWkt(c[4]); w2 = osr.SpatialReference(); w2.ImportFromWkt(c[5])
                rule = ['IGNORE_DATA_AXIS_TO_SRS_AXIS_MAPPING=YES']
                same1 = s.GetName().replace(' (deprecated)', '') == c[1] and s.GetAttrValue('GEOGCS') == c[2]
                # Where the register lists northings first, ours differs in that and nothing else.
                swapped = s.EPSGTreatsAsNorthingEasting()
                w = [w1, w2]
                ok = [(x.IsSame(s, rule) == 1) or (swapped and x.ExportToProj4() == s.ExportToProj4()) for x in w]
                codes = [x.GetAuthorityCode(None) == c[0] for x in w]
                if not (same1 and all(ok) and all(codes)):
                    print(c[0], s.GetName(), same1, ok, codes)
            print('end')
            """);
        Assert.Equal(["end"], said);
    }

    [Fact]
    public void The_families_named_to_people_are_those_known()
    {
        Assert.Equal(120 + 11 + 23 + 21 + 11 + 14 + 21 + 5 + 5 + 3 + 5, All.Length);
        foreach (string code in new[] { "32601", "25828", "26901", "6328", "28348", "7846", "31965", "3097", "6688", "2133", "2193", "3006", "3067", "2157", "3763" })
            Assert.Contains(code, ProjectedCrs.Known);
    }

    private static string[] Ask(string script)
    {
        string path = Path.GetTempFileName();
        File.WriteAllLines(path, All.Select(c => string.Join('\t', c.Epsg, c.Name, c.GeographicName, c.CentralMeridian.ToString("R", CultureInfo.InvariantCulture), c.Wkt, c.Wkt2)));
        string said = OutsideReader.RunPython(script, "osgeo", path);
        File.Delete(path);
        return said.TrimEnd('\n').Split('\n');
    }
}
