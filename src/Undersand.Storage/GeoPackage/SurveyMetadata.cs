using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Undersand.Storage.GeoPackage;

/// <summary>What the whole file is about, as a schema.org Dataset: the survey, the steps taken, what a probability refers to.</summary>
internal static class SurveyMetadata
{
    private static readonly JsonSerializerOptions Json = new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Document(SurveyResult result)
    {
        Survey survey = result.Survey;
        var facts = new JsonArray
        {
            Fact("crs", $"EPSG:{survey.Epsg}"),
            Fact("water_sound_speed_m_s", survey.Water.SoundSpeed),
            Fact("sediment", survey.Sediment.Name),
            Fact("sediment_sound_speed_m_s", survey.Sediment.SoundSpeed),
            Fact("voxel_m", survey.Image.Voxel),
            Fact("max_burial_m", survey.Image.MaxBurial),
            Fact("objects_per_hectare", survey.Prior.ObjectsPerHectare),
            Fact("smallest_object_m", survey.Prior.SmallestObject),
            Fact("resolution_cell_m3", result.CellVolume),
            Fact("reference_sphere_diameter_m", result.ReferenceDiameter),
            Fact("probabilities_calibrated", false),
            Fact("amplitudes_calibrated", survey.Calibration is not null),
        };
        foreach (ProcessingStep step in result.Steps)
            facts.Add(Fact("step: " + step.Name, string.Join("; ", step.Settings.OrderBy(s => s.Key, StringComparer.Ordinal).Select(s => $"{s.Key} {s.Value}"))));
        return new JsonObject
        {
            ["@context"] = "https://schema.org",
            ["@type"] = "Dataset",
            ["name"] = survey.Name,
            ["description"] = "What lies under the seabed, computed from sub-bottom sonar recordings. A target is a place to look, not a permission to dig.",
            ["dateModified"] = GeoPackageSql.Time.Format(result.NewestPing),
            ["additionalProperty"] = facts,
        }.ToJsonString(Json);
    }

    private static JsonObject Fact(string name, JsonNode value) => new() { ["@type"] = "PropertyValue", ["name"] = name, ["value"] = Finite(value) };

    private static JsonNode? Finite(JsonNode value) =>
        value is JsonValue v && v.TryGetValue(out double number) && !double.IsFinite(number) ? null : value;
}
