using System.Diagnostics.CodeAnalysis;

namespace Undersand.Positioning;

/// <summary>A projected reference system in metres, easting and northing: the frame of a survey.</summary>
/// <remarks>
/// Transverse Mercator only. No datum shifts: longitudes and latitudes are on the system's own datum (<see cref="GeographicName"/>), which for every
/// system known here lies within about three metres of WGS 84. Systems on older datums (hundreds of metres off) are refused, not shifted.
/// Eastings come first, also where the register lists northings first. Immutable; may be shared by threads.
/// </remarks>
public sealed class ProjectedCrs
{
    private readonly TransverseMercator _projection;

    private ProjectedCrs(int epsg, string name, GeographicCrs geographic, ProjectionParameters parameters)
    {
        Epsg = epsg;
        Name = name;
        Geographic = geographic;
        Parameters = parameters;
        _projection = new TransverseMercator(geographic.Ellipsoid, parameters);
        Wkt = CrsText.Wkt1(this);
        Wkt2 = CrsText.Wkt2(this);
        CfAttributes = CrsText.CfAttributes(this);
    }

    /// <summary>The system of an EPSG code, if it is one of those known; <see cref="Known"/> names them.</summary>
    public static bool TryFromEpsg(int epsg, [NotNullWhen(true)] out ProjectedCrs? crs)
    {
        crs = CrsCatalogue.TryFind(epsg, out string name, out GeographicCrs? geographic, out ProjectionParameters parameters)
            ? new ProjectedCrs(epsg, name, geographic, parameters)
            : null;
        return crs is not null;
    }

    /// <summary>The system of an EPSG code that a file names.</summary>
    /// <param name="epsg">The code.</param>
    /// <param name="source">The file.</param>
    /// <param name="place">Where in it, or null.</param>
    /// <exception cref="SurveyException">It isn't one of those known.</exception>
    public static ProjectedCrs FromEpsg(int epsg, string source, string? place = null) =>
        TryFromEpsg(epsg, out ProjectedCrs? crs) ? crs : throw new SurveyException(source, place, $"EPSG:{epsg} is not known", $"name one of {Known}");

    /// <summary>The system that a survey names.</summary>
    /// <exception cref="SurveyException">It isn't one of those known.</exception>
    public static ProjectedCrs Of(Survey survey) => FromEpsg(survey.Epsg, "survey.json", "crs");

    /// <summary>The families of systems known, with their codes, for an error message.</summary>
    public static string Known => CrsCatalogue.Families;

    /// <summary>EPSG code.</summary>
    public int Epsg { get; }

    /// <summary>Its name in the EPSG register, such as “WGS 84 / UTM zone 31N”.</summary>
    public string Name { get; }

    /// <summary>Name of the geographic system it projects, such as “ETRS89”: the datum of <see cref="ToGeo"/>.</summary>
    public string GeographicName => Geographic.Name;

    /// <summary>The longitude it is centred on, degrees.</summary>
    public double CentralMeridian => Parameters.CentralMeridian;

    /// <summary>Well-known text, version 1, as GIS programs and <c>spatial_ref</c> attributes have it.</summary>
    public string Wkt { get; }

    /// <summary>Well-known text, version 2 (ISO 19162:2015), as CF's <c>crs_wkt</c> wants it.</summary>
    public string Wkt2 { get; }

    /// <summary>Attributes of a CF grid-mapping variable (CF-1.11, appendix F); each value is a string or a double.</summary>
    public IReadOnlyDictionary<string, object> CfAttributes { get; }

    internal GeographicCrs Geographic { get; }

    internal ProjectionParameters Parameters { get; }

    /// <summary>Longitude and latitude of a place, on the system's own datum.</summary>
    public GeoPoint ToGeo(GridPoint point)
    {
        var (longitude, latitude) = _projection.ToGeographic(point.Easting, point.Northing);
        return new GeoPoint(longitude, latitude);
    }

    /// <summary>The place of a longitude and latitude on the system's own datum. Sensible within 10° of the central meridian.</summary>
    /// <param name="point">Where.</param>
    /// <param name="depth">The depth that the result carries, metres.</param>
    /// <exception cref="ArgumentOutOfRangeException">The latitude is not between −90° and 90°, or a number is not finite.</exception>
    public GridPoint FromGeo(GeoPoint point, double depth = 0)
    {
        if (!(point.Latitude is >= -90 and <= 90) || !double.IsFinite(point.Longitude))
            throw new ArgumentOutOfRangeException(nameof(point), point, "a latitude lies between −90° and 90°, a longitude is finite");
        var (easting, northing, _, _) = _projection.FromGeographic(point.Longitude, point.Latitude);
        return new GridPoint(easting, northing, depth);
    }

    /// <summary>The angle from true north to grid north, positive clockwise: a true azimuth minus this is a grid azimuth.</summary>
    public Angle ConvergenceAt(GridPoint point)
    {
        GeoPoint geo = ToGeo(point);
        return new Angle(_projection.FromGeographic(geo.Longitude, geo.Latitude).Convergence);
    }

    /// <summary>Metres on the grid for a metre on the ellipsoid, here.</summary>
    public double ScaleAt(GridPoint point)
    {
        GeoPoint geo = ToGeo(point);
        return _projection.FromGeographic(geo.Longitude, geo.Latitude).Scale;
    }
}
