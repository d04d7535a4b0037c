namespace Undersand.Positioning;

/// <summary>An ellipsoid of revolution.</summary>
/// <param name="Name">Its name in the EPSG register.</param>
/// <param name="Epsg">Its code there.</param>
/// <param name="SemiMajorAxis">Metres.</param>
/// <param name="InverseFlattening">1 / f.</param>
internal sealed record Ellipsoid(string Name, int Epsg, double SemiMajorAxis, double InverseFlattening)
{
    public static readonly Ellipsoid Wgs84 = new("WGS 84", 7030, 6378137, 298.257223563);
    public static readonly Ellipsoid Grs80 = new("GRS 1980", 7019, 6378137, 298.257222101);
}
