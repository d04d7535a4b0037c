using System.Text.Json;
using Undersand.Positioning;
using Undersand.Storage.Geo;
using Undersand.Storage.GeoPackage;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Web;

/// <summary>A feature as GeoJSON (RFC 7946), in longitude and latitude.</summary>
internal sealed class Feature
{
    private readonly string _type;
    private readonly IReadOnlyList<IReadOnlyList<GeoPoint>> _rings;
    private readonly (string Name, object? Value)[] _properties;
    private Target? _target;

    private Feature(string id, string type, ProjectedCrs crs, IReadOnlyList<IReadOnlyList<(double X, double Y)>> rings, params (string, object?)[] properties)
    {
        (Id, _type, _properties) = (id, type, properties);
        _rings = [.. rings.Select(ring => (IReadOnlyList<GeoPoint>)[.. ring.Select(p => crs.ToGeo(new GridPoint(p.X, p.Y, 0)))])];
    }

    public string Id { get; }

    /// <summary>A target with the properties it has in targets.geojson, and what people make of it.</summary>
    public static Feature Of(Target t, int number, Judgement? said, ProjectedCrs crs) => new(t.Id, "Point", crs, [[(t.Position.Easting, t.Position.Northing)]],
        ("number", number), ("calibrated", false), ("verdict", said?.Verdict?.ToString().ToLowerInvariant()), ("priority", said?.Priority), ("note", said?.Note), ("judged_by", said?.Who), ("judged_utc", said?.When.ToString()))
    {
        _target = t,
    };

    public static Feature Of(LineResult line, ProjectedCrs crs) => new(line.Name, "LineString", crs, [[.. line.Pings.Select(p => (p.Source.Easting, p.Source.Northing))]],
        ("name", line.Name), ("pings", line.Quality.Pings), ("pings_used", line.Quality.PingsUsed), ("length_m", line.Quality.Length), ("mean_height_m", line.Quality.MeanHeight), ("seabed_snr_db", line.Quality.SeabedSnrDb));

    public static Feature Of(CoverageArea area, int number, ProjectedCrs crs) => new($"{number}", "Polygon", crs, area.Rings,
        ("seen_from_m", area.SeenFrom), ("seen_to_m", area.SeenTo), ("sphere_diameter_m", area.SphereDiameter), ("area_m2", area.Area));

    public static Feature Of(MagneticPoint m, int number, ProjectedCrs crs) => new($"{number}", "Point", crs, [[(m.Reading.Position.Easting, m.Reading.Position.Northing)]],
        ("time_utc", m.Reading.Time.ToString()), ("line", m.Line), ("depth_m", m.Reading.Position.Depth), ("total_field_nt", m.Reading.TotalFieldNanotesla), ("median_nt", m.MedianNanotesla), ("residual_nt", Math.Round(m.ResidualNanotesla, 3)));

    public static Feature Of(Outcome o, int number, ProjectedCrs crs) => new($"{number}", "Point", crs, [[(o.Easting, o.Northing)]],
        ("radius_m", o.Radius), ("reached_depth_m", o.ReachedDepth), ("outcome", o.Kind.ToString().ToLowerInvariant()), ("material", o.Material), ("note", o.Note));

    /// <summary>Whether its own box meets another: west, south, east, north.</summary>
    public bool Meets(double[] box) =>
        _rings[0].Max(p => p.Longitude) >= box[0] && _rings[0].Min(p => p.Longitude) <= box[2] && _rings[0].Max(p => p.Latitude) >= box[1] && _rings[0].Min(p => p.Latitude) <= box[3];

    public void Write(Utf8JsonWriter json)
    {
        json.WriteString("type", "Feature");
        json.WriteString("id", Id);
        json.WriteStartObject("geometry");
        json.WriteString("type", _type);
        json.WritePropertyName("coordinates");
        if (_type == "Point")
            Place(json, _rings[0][0]);
        else if (_type == "LineString")
            Places(json, _rings[0]);
        else
        {
            json.WriteStartArray();
            foreach (var ring in _rings)
                Places(json, ring);
            json.WriteEndArray();
        }
        json.WriteEndObject();
        json.WriteStartObject("properties");
        if (_target is not null)
            TargetsGeoJson.WriteProperties(json, _target);
        foreach (var (name, value) in _properties)
        {
            json.WritePropertyName(name);
            switch (value)
            {
                case null or double.NaN: json.WriteNullValue(); break;
                case double number: json.WriteNumberValue(number); break;
                case int whole: json.WriteNumberValue(whole); break;
                case bool yes: json.WriteBooleanValue(yes); break;
                default: json.WriteStringValue((string)value); break;
            }
        }
        json.WriteEndObject();
    }

    private static void Places(Utf8JsonWriter json, IReadOnlyList<GeoPoint> places)
    {
        json.WriteStartArray();
        foreach (GeoPoint place in places)
            Place(json, place);
        json.WriteEndArray();
    }

    private static void Place(Utf8JsonWriter json, GeoPoint place)
    {
        json.WriteStartArray();
        json.WriteNumberValue(Math.Round(place.Longitude, 9));
        json.WriteNumberValue(Math.Round(place.Latitude, 9));
        json.WriteEndArray();
    }
}
