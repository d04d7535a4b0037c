using System.Globalization;

namespace Undersand.Positioning;

/// <summary>A reference system in the words of others: WKT 1 (OGC 01-009), WKT 2 (ISO 19162:2015), CF-1.11.</summary>
internal static class CrsText
{
    private const string Degree = "0.0174532925199433";

    public static string Wkt1(ProjectedCrs crs)
    {
        ProjectionParameters p = crs.Parameters;
        return $"PROJCS[\"{crs.Name}\",{Wkt1(crs.Geographic)},PROJECTION[\"Transverse_Mercator\"],"
            + $"PARAMETER[\"latitude_of_origin\",{Number(p.LatitudeOfOrigin)}],PARAMETER[\"central_meridian\",{Number(p.CentralMeridian)}],"
            + $"PARAMETER[\"scale_factor\",{Number(p.Scale)}],PARAMETER[\"false_easting\",{Number(p.FalseEasting)}],"
            + $"PARAMETER[\"false_northing\",{Number(p.FalseNorthing)}],UNIT[\"metre\",1,AUTHORITY[\"EPSG\",\"9001\"]],"
            + $"AXIS[\"Easting\",EAST],AXIS[\"Northing\",NORTH],AUTHORITY[\"EPSG\",\"{crs.Epsg}\"]]";
    }

    public static string Wkt1(GeographicCrs crs) =>
        $"GEOGCS[\"{crs.Name}\",DATUM[\"{crs.Datum}\",SPHEROID[\"{crs.Ellipsoid.Name}\",{Number(crs.Ellipsoid.SemiMajorAxis)},"
        + $"{Number(crs.Ellipsoid.InverseFlattening)},AUTHORITY[\"EPSG\",\"{crs.Ellipsoid.Epsg}\"]],AUTHORITY[\"EPSG\",\"{crs.DatumEpsg}\"]],"
        + "PRIMEM[\"Greenwich\",0,AUTHORITY[\"EPSG\",\"8901\"]],"
        + $"UNIT[\"degree\",{Degree},AUTHORITY[\"EPSG\",\"9122\"]],AUTHORITY[\"EPSG\",\"{crs.Epsg}\"]]";

    public static string Wkt2(ProjectedCrs crs)
    {
        ProjectionParameters p = crs.Parameters;
        GeographicCrs g = crs.Geographic;
        return $"PROJCRS[\"{crs.Name}\",BASEGEOGCRS[\"{g.Name}\",DATUM[\"{g.DatumName}\",ELLIPSOID[\"{g.Ellipsoid.Name}\","
            + $"{Number(g.Ellipsoid.SemiMajorAxis)},{Number(g.Ellipsoid.InverseFlattening)},LENGTHUNIT[\"metre\",1]]],"
            + $"PRIMEM[\"Greenwich\",0,ANGLEUNIT[\"degree\",{Degree}]],ID[\"EPSG\",{g.Epsg}]],"
            + "CONVERSION[\"Transverse Mercator\",METHOD[\"Transverse Mercator\",ID[\"EPSG\",9807]],"
            + Angular("Latitude of natural origin", p.LatitudeOfOrigin, 8801) + Angular("Longitude of natural origin", p.CentralMeridian, 8802)
            + $"PARAMETER[\"Scale factor at natural origin\",{Number(p.Scale)},SCALEUNIT[\"unity\",1],ID[\"EPSG\",8805]],"
            + $"PARAMETER[\"False easting\",{Number(p.FalseEasting)},LENGTHUNIT[\"metre\",1],ID[\"EPSG\",8806]],"
            + $"PARAMETER[\"False northing\",{Number(p.FalseNorthing)},LENGTHUNIT[\"metre\",1],ID[\"EPSG\",8807]]],"
            + "CS[Cartesian,2],AXIS[\"(E)\",east,ORDER[1],LENGTHUNIT[\"metre\",1]],AXIS[\"(N)\",north,ORDER[2],LENGTHUNIT[\"metre\",1]],"
            + $"ID[\"EPSG\",{crs.Epsg}]]";
    }

    public static IReadOnlyDictionary<string, object> CfAttributes(ProjectedCrs crs) => new Dictionary<string, object>
    {
        ["grid_mapping_name"] = "transverse_mercator",
        ["latitude_of_projection_origin"] = crs.Parameters.LatitudeOfOrigin,
        ["longitude_of_central_meridian"] = crs.Parameters.CentralMeridian,
        ["scale_factor_at_central_meridian"] = crs.Parameters.Scale,
        ["false_easting"] = crs.Parameters.FalseEasting,
        ["false_northing"] = crs.Parameters.FalseNorthing,
        ["semi_major_axis"] = crs.Geographic.Ellipsoid.SemiMajorAxis,
        ["inverse_flattening"] = crs.Geographic.Ellipsoid.InverseFlattening,
        ["longitude_of_prime_meridian"] = 0.0,
        ["prime_meridian_name"] = "Greenwich",
        ["reference_ellipsoid_name"] = crs.Geographic.Ellipsoid.Name,
        ["horizontal_datum_name"] = crs.Geographic.DatumName,
        ["geographic_crs_name"] = crs.Geographic.Name,
        ["projected_crs_name"] = crs.Name,
    };

    private static string Angular(string name, double degrees, int epsg) =>
        $"PARAMETER[\"{name}\",{Number(degrees)},ANGLEUNIT[\"degree\",{Degree}],ID[\"EPSG\",{epsg}]],";

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
