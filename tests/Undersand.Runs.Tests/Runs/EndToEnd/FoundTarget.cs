using System.Text.Json;

namespace Undersand.Runs.Tests.Runs.EndToEnd;

/// <summary>A target as the file says it.</summary>
internal sealed record FoundTarget(string Id, double Easting, double Northing, double Burial, double Probability, double Major, double Minor, double EllipseAzimuth, double? AlternativeEasting, double? AlternativeNorthing, int Lines)
{
    /// <summary>The targets of a results folder, in the file's order.</summary>
    public static List<FoundTarget> AllIn(string results)
    {
        using var document = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(results, "targets.geojson")));
        return [.. document.RootElement.GetProperty("features").EnumerateArray().Select(f => Of(f.GetProperty("properties")))];
    }

    /// <summary>The one that is the ball, most probable of those near it.</summary>
    public static FoundTarget BallIn(string results)
    {
        List<FoundTarget> all = AllIn(results);
        FoundTarget? ball = all.Find(t => t.DistanceToBall < 0.15);
        return ball ?? throw new Xunit.Sdk.XunitException($"no target at the ball; found: {string.Join("; ", all)}");
    }

    /// <summary>Horizontal distance to where the ball really is, metres.</summary>
    public double DistanceToBall => Math.Sqrt(Math.Pow(Easting - SmallSurvey.Ball.Easting, 2) + Math.Pow(Northing - SmallSurvey.Ball.Northing, 2));

    private static FoundTarget Of(JsonElement p) => new(p.GetProperty("id").GetString()!, Number(p, "easting_m")!.Value, Number(p, "northing_m")!.Value, Number(p, "burial_depth_m")!.Value,
        Number(p, "probability")!.Value, Number(p, "ellipse_major_m")!.Value, Number(p, "ellipse_minor_m")!.Value, Number(p, "ellipse_azimuth_deg")!.Value,
        Number(p, "alternative_easting_m"), Number(p, "alternative_northing_m"), p.GetProperty("lines_seen").GetInt32());

    private static double? Number(JsonElement p, string name) => p.GetProperty(name) is { ValueKind: JsonValueKind.Number } n ? n.GetDouble() : null;
}
