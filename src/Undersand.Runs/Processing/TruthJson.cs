using System.Text;
using System.Text.Json;
using Undersand.Simulation;

namespace Undersand.Runs.Processing;

/// <summary>The truth of a simulated survey as JSON.</summary>
internal static class TruthJson
{
    public static string Of(Truth truth)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("scene", truth.Scene);
            json.WriteNumber("seed", truth.Seed);
            json.WriteStartArray("objects");
            foreach (var thing in truth.Objects)
                Write(json, thing);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    private static void Write(Utf8JsonWriter json, TrueObject thing)
    {
        json.WriteStartObject();
        json.WriteString("name", thing.Name);
        json.WriteString("shape", thing.Shape);
        json.WriteString("material", thing.Material.ToString().ToLowerInvariant());
        Number("easting_m", thing.Centre.Easting);
        Number("northing_m", thing.Centre.Northing);
        Number("burial_depth_m", thing.BurialOfTop);
        Number("length_m", thing.Length);
        Number("width_m", thing.Width);
        Number("thickness_m", thing.Thickness);
        if (thing.Azimuth is { } azimuth)
            Number("azimuth_deg", azimuth.Degrees);
        json.WriteBoolean("is_body", thing.IsBody);
        json.WriteBoolean("is_decoy", thing.IsDecoy);
        json.WriteEndObject();

        void Number(string name, double value) => json.WriteNumber(name, Math.Round(value, 4));
    }
}
