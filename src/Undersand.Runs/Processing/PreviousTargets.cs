using System.Text.Json;

namespace Undersand.Runs.Processing;

/// <summary>The targets of an earlier run in the same folder, as far as ids need them: name, place, and how well it was known.</summary>
internal static class PreviousTargets
{
    /// <summary>Reads them; null where there are none that can be understood.</summary>
    public static IReadOnlyList<Target>? Read(string geoJson)
    {
        if (!File.Exists(geoJson))
            return null;
        try
        {
            using var document = JsonDocument.Parse(File.ReadAllBytes(geoJson));
            return [.. document.RootElement.GetProperty("features").EnumerateArray().Select(f => Of(f.GetProperty("properties")))];
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            return null;
        }
    }

    private static Target Of(JsonElement properties)
    {
        return new()
        {
            Id = properties.GetProperty("id").GetString()!,
            Position = new GridPoint(Number("easting_m"), Number("northing_m"), 0),
            HorizontalSd = Number("horizontal_sd_m"),
            EllipseMajor = Number("ellipse_major_m"),
            EllipseMinor = Number("ellipse_minor_m"),
            EllipseAzimuth = Angle.FromDegrees(Number("ellipse_azimuth_deg")),
            BurialDepth = new Estimate(Number("burial_depth_m"), Number("burial_depth_sd_m")),
            Probability = new Probability(0),
            LogBayesFactor = 0,
            MaterialProbabilities = new Dictionary<Material, double> { [Material.Other] = 1 },
            LinesSeen = 0,
            Looks = 0,
        };

        double Number(string name) => properties.GetProperty(name).GetDouble();
    }
}
