using System.Text.Encodings.Web;
using System.Text.Json;
using Undersand.Positioning;

namespace Undersand.Storage.Geo;

/// <summary>Writes the targets as GeoJSON (RFC 7946): points in longitude and latitude, most probable first.</summary>
/// <remarks>
/// RFC 7946, section 4, wants WGS 84. Longitudes and latitudes are on the survey's own datum, which <c>datum</c> names and which lies within about three
/// metres of WGS 84; eastings and northings among the properties are exact.
/// </remarks>
public static class TargetsGeoJson
{
    private static readonly JsonWriterOptions Options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes the file.</summary>
    /// <param name="path">The file, replaced if it exists.</param>
    /// <param name="result">Whose targets.</param>
    /// <exception cref="SurveyException">The place can't be written to.</exception>
    public static void Write(string path, SurveyResult result)
    {
        ProjectedCrs crs = ProjectedCrs.Of(result.Survey);
        WholeFile.Write(path, file =>
        {
            using var json = new Utf8JsonWriter(file, Options);
            json.WriteStartObject();
            json.WriteString("type", "FeatureCollection");
            json.WriteString("name", "targets");
            json.WriteString("survey", result.Survey.Name);
            json.WriteString("crs_of_eastings", $"EPSG:{crs.Epsg}");
            json.WriteString("datum", crs.GeographicName);
            json.WriteStartArray("features");
            foreach (Target target in TargetField.Ordered(result.Targets))
                WriteFeature(json, target, crs.ToGeo(target.Position));
            json.WriteEndArray();
            json.WriteEndObject();
            json.Flush();
            file.WriteByte((byte)'\n');
        });
    }

    private static void WriteFeature(Utf8JsonWriter json, Target target, GeoPoint place)
    {
        json.WriteStartObject();
        json.WriteString("type", "Feature");
        json.WriteString("id", target.Id);
        json.WritePropertyName("geometry");
        json.WriteRawValue($"{{\"type\":\"Point\",\"coordinates\":[{ResultNumber.Fixed(place.Longitude, 9)},{ResultNumber.Fixed(place.Latitude, 9)}]}}");
        json.WriteStartObject("properties");
        WriteProperties(json, target);
        json.WriteEndObject();
        json.WriteEndObject();
    }

    /// <summary>Writes a target's properties into an object that is open.</summary>
    public static void WriteProperties(Utf8JsonWriter json, Target target)
    {
        foreach (TargetField field in TargetField.All)
        {
            json.WritePropertyName(field.Name);
            WriteValue(json, field.Kind, field.Value(target));
        }
    }

    private static void WriteValue(Utf8JsonWriter json, FieldKind kind, string? value)
    {
        switch (kind)
        {
            case FieldKind.Sentences:
                json.WriteStartArray();
                foreach (string sentence in (value ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries))
                    json.WriteStringValue(sentence);
                json.WriteEndArray();
                break;
            case FieldKind.Text:
                json.WriteStringValue(value);
                break;
            default:
                json.WriteRawValue(value ?? "null");
                break;
        }
    }
}
