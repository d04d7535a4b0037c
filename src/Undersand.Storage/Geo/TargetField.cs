using System.Globalization;

namespace Undersand.Storage.Geo;

/// <summary>What a property of a target is.</summary>
internal enum FieldKind
{
    /// <summary>Words: a string.</summary>
    Text,
    /// <summary>A number with decimals, as it is written.</summary>
    Real,
    /// <summary>A whole number, as it is written.</summary>
    Integer,
    /// <summary>A JSON object, as it is written.</summary>
    Json,
    /// <summary>Sentences, one a line.</summary>
    Sentences,
}

/// <summary>One property of a target, the same in every file that has it.</summary>
/// <param name="Name">As the contract spells it.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Meaning">In a few words, with its unit.</param>
/// <param name="Value">Its value as people read it, or null.</param>
/// <param name="Exact">Its value unrounded, for files that are read back; null where nothing is rounded.</param>
internal sealed record TargetField(string Name, FieldKind Kind, string Meaning, Func<Target, string?> Value, Func<Target, object?>? Exact = null)
{
    /// <summary>All properties, in the contract's order, then our own.</summary>
    public static IReadOnlyList<TargetField> All { get; } =
    [
        new("id", FieldKind.Text, "stable within the survey", t => t.Id),
        Metres("easting_m", "centre", t => t.Position.Easting),
        Metres("northing_m", "centre", t => t.Position.Northing),
        Metres("horizontal_sd_m", "one standard deviation of the horizontal position", t => t.HorizontalSd),
        Metres("ellipse_major_m", "half the long axis of the one-sigma ellipse", t => t.EllipseMajor),
        Metres("ellipse_minor_m", "half the short axis of the one-sigma ellipse", t => t.EllipseMinor),
        Axis("ellipse_azimuth_deg", "its long axis, clockwise from grid north", t => t.EllipseAzimuth),
        Metres("alternative_easting_m", "the other place where the same echo could lie", t => t.Alternative?.Easting),
        Metres("alternative_northing_m", "the other place where the same echo could lie", t => t.Alternative?.Northing),
        Metres("burial_depth_m", "from the seabed smoothed over 0.5 m to the top", t => t.BurialDepth.Value),
        Metres("burial_depth_sd_m", "one standard deviation", t => t.BurialDepth.StandardDeviation),
        Metres("length_m", "full length, imaging blur taken out", t => t.Length),
        Metres("width_m", "full width", t => t.Width),
        Metres("thickness_m", "full thickness", t => t.Thickness),
        Axis("azimuth_deg", "long axis, clockwise from grid north, 0–180", t => t.Azimuth),
        new("probability", FieldKind.Real, "that a compact body is there, 0 to 1", t => ResultNumber.Probability(t.Probability), t => ResultNumber.Exact(t.Probability)),
        Real("target_strength_db", "re 1 m², where calibrated", 2, t => t.TargetStrengthDb),
        Real("reflection_coefficient", "signed, at the top, where calibrated", 4, t => t.ReflectionCoefficient),
        Real("reflection_relative_to_seabed", "signed ratio to the seabed's own reflection", 4, t => t.ReflectionRelativeToSeabed),
        new("material", FieldKind.Text, "most probable class", t => Word(t.Material)),
        new("material_probabilities", FieldKind.Json, "all classes", t => Materials(t, ResultNumber.Probability), t => Materials(t, p => p.ToString("R", CultureInfo.InvariantCulture))),
        Integer("lines_seen", "survey lines in support", t => t.LinesSeen),
        Integer("looks", "independent looks in support", t => t.Looks),
        Real("log10_bayes_factor", "evidence against nothing here, decimal logarithm", 3, t => t.LogBayesFactor / Math.Log(10)),
        Metres("top_depth_m", "of the top, below the water surface", t => t.Position.Depth),
        new("notes", FieldKind.Sentences, "reservations about this target", t => string.Join('\n', t.Notes.Select(n => n.ReplaceLineEndings(" ")))),
    ];

    /// <summary>Most probable first; equals by their names.</summary>
    public static IEnumerable<Target> Ordered(IEnumerable<Target> targets) =>
        targets.OrderByDescending(t => t.Probability.LogOdds).ThenBy(t => t.Id, StringComparer.Ordinal);

    private static TargetField Metres(string name, string meaning, Func<Target, double?> value) => Real(name, meaning + ", m", 3, value);

    private static TargetField Real(string name, string meaning, int decimals, Func<Target, double?> value) =>
        new(name, FieldKind.Real, meaning, t => ResultNumber.Fixed(value(t), decimals), t => value(t) is { } exact && double.IsFinite(exact) ? exact : null);

    private static TargetField Integer(string name, string meaning, Func<Target, int> value) =>
        new(name, FieldKind.Integer, meaning, t => value(t).ToString());

    // An axis has no direction: 0 ≤ azimuth < 180, also once it is rounded.
    private static TargetField Axis(string name, string meaning, Func<Target, Angle?> value)
    {
        TargetField exact = Real(name, meaning, 1, t => value(t)?.Degrees is { } degrees ? (degrees % 180 + 180) % 180 : null);
        return exact with { Value = t => ResultNumber.Fixed(exact.Exact!(t) is double degrees ? Math.Round(degrees, 1) % 180 : null, 1) };
    }

    private static string Materials(Target target, Func<double, string> write) =>
        "{" + string.Join(",", Enum.GetValues<Material>().Where(target.MaterialProbabilities.ContainsKey).Select(m => $"\"{Word(m)}\":{write(target.MaterialProbabilities[m])}")) + "}";

    private static string Word(Material material) => material.ToString().ToLowerInvariant();
}
