namespace Undersand.Positioning;

/// <summary>A geographic reference system: a datum on an ellipsoid, Greenwich, degrees. Only datums within about three metres of WGS 84.</summary>
/// <param name="Name">Its name in the EPSG register.</param>
/// <param name="Epsg">Its code there.</param>
/// <param name="Datum">The datum as WKT 1 spells it.</param>
/// <param name="DatumName">The datum as the register spells it.</param>
/// <param name="DatumEpsg">The datum's code.</param>
/// <param name="Ellipsoid">The ellipsoid.</param>
internal sealed record GeographicCrs(string Name, int Epsg, string Datum, string DatumName, int DatumEpsg, Ellipsoid Ellipsoid)
{
    public static readonly GeographicCrs Wgs84 =
        new("WGS 84", 4326, "WGS_1984", "World Geodetic System 1984", 6326, Ellipsoid.Wgs84);
}

/// <summary>Where a transverse Mercator projection touches: degrees and metres.</summary>
internal readonly record struct ProjectionParameters(double LatitudeOfOrigin, double CentralMeridian, double Scale, double FalseEasting, double FalseNorthing);
