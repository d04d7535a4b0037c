using System.Diagnostics.CodeAnalysis;

namespace Undersand.Acoustics;

/// <summary>The built-in sediments, of two kinds that disagree about sand.</summary>
/// <remarks>
/// TR 9407 gives fine sand R = 0.23, Hamilton's and Jensen's sands 0.35–0.38: the first is the loose top few centimetres that sounds above
/// 10 kHz see, the second the sand below. A sonar that sees through the top decimetres takes the second, which is the default here. The choice
/// is worth 4 dB in the seabed's echo. Values of Hamilton and Bachman are from memory (M), their attenuation is Hamilton (1972) at the class's
/// grain size. See docs/science/sediment.md.
/// </remarks>
public static class SedimentTable
{
    /// <summary>The default: Hamilton and Bachman's sands and silts, then Jensen's table.</summary>
    public static IReadOnlyList<SedimentRow> Rows { get; } =
    [
        Hamilton("coarse sand", 2.03, 1.20, 0.5),
        Hamilton("fine sand", 1.95, 1.15, 2.5),
        Hamilton("silty sand", 1.79, 1.08, 4.0),
        Hamilton("sandy silt", 1.77, 1.08, 5.0),
        Hamilton("clayey silt", 1.49, 1.01, 6.5, "mud"),
        Hamilton("silty clay", 1.42, 0.99, 8.0),
        Jensen("clay", 1.5, 1.0, 0.2),
        Jensen("silt", 1.7, 1.05, 1.0),
        Jensen("sand", 1.9, 1.1, 0.8),
        Jensen("gravel", 2.0, 1.2, 0.6),
        Jensen("moraine", 2.1, 1.3, 0.4),
        Jensen("chalk", 2.2, 1.6, 0.2),
        Jensen("limestone", 2.4, 2.0, 0.1),
        Jensen("basalt", 2.7, 3.5, 0.1),
    ];

    /// <summary>APL-UW TR 9407 (1994), section IV, table 2. Ratios and loss parameter were read in a public library (S); its speed of sandy gravel, a slip there, is put right.</summary>
    public static IReadOnlyList<SedimentRow> SurficialRows { get; } =
    [
        Surficial("rough rock", 2.5000, 2.5000, 0.01374, "rock"),
        Surficial("cobble", 2.5000, 1.8000, 0.01374, "pebbles"),
        Surficial("sandy gravel", 2.4920, 1.3370, 0.01705),
        Surficial("very coarse sand", 2.4000, 1.3067, 0.01667),
        Surficial("muddy sandy gravel", 2.3140, 1.2778, 0.01630),
        Surficial("coarse sand", 2.2310, 1.2503, 0.01638, "gravelly sand"),
        Surficial("gravelly muddy sand", 2.1510, 1.2241, 0.01645),
        Surficial("medium sand", 1.8450, 1.1782, 0.01624),
        Surficial("muddy gravel", 1.6150, 1.1396, 0.01610),
        Surficial("fine sand", 1.4510, 1.1073, 0.01602, "silty sand"),
        Surficial("muddy sand", 1.3390, 1.0800, 0.01728),
        Surficial("very fine sand", 1.2680, 1.0568, 0.01875),
        Surficial("clayey sand", 1.2240, 1.0364, 0.02019),
        Surficial("coarse silt", 1.1950, 1.0179, 0.02158),
        Surficial("sandy silt", 1.1690, 0.9999, 0.01261, "gravelly mud"),
        Surficial("medium silt", 1.1490, 0.9885, 0.00676, "sand-silt-clay"),
        Surficial("sandy mud", 1.1490, 0.9873, 0.00386),
        Surficial("fine silt", 1.1480, 0.9861, 0.00306, "clayey silt"),
        Surficial("sandy clay", 1.1470, 0.9849, 0.00242),
        Surficial("very fine silt", 1.1470, 0.9837, 0.00194),
        Surficial("silty clay", 1.1460, 0.9824, 0.00163),
        Surficial("clay", 1.1450, 0.9800, 0.00148),
    ];

    /// <summary>Every name that <see cref="TryFind"/> knows without asking for a table, sorted: for messages.</summary>
    public static IReadOnlyList<string> Names { get; } =
        [.. Rows.Concat(SurficialRows).Select(r => r.Name).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>Finds a sediment by name, whatever the case: first in the default table, then in TR 9407. A full name (“fine sand (APL-UW TR 9407)”) picks the table.</summary>
    /// <param name="name">The name.</param>
    /// <param name="row">The row, or null.</param>
    public static bool TryFind(string name, [NotNullWhen(true)] out SedimentRow? row)
    {
        string wanted = name.Trim();
        bool Is(string other) => string.Equals(other, wanted, StringComparison.OrdinalIgnoreCase);
        row = Rows.Concat(SurficialRows).FirstOrDefault(r => Is(r.Name) || Is(r.FullName))
            ?? Rows.Concat(SurficialRows).FirstOrDefault(r => r.Aliases.Any(Is));
        return row is not null;
    }

    private static SedimentRow Hamilton(string name, double gramsPerCubicCentimetre, double speedRatio, double grainSize, params string[] aliases) =>
        new(name, SedimentTableKind.Hamilton, gramsPerCubicCentimetre / 1.024, speedRatio, GrainSize.Attenuation(grainSize), "M", aliases);

    /// <summary>From dB per wavelength at the table's own 1500 m/s water.</summary>
    private static SedimentRow Jensen(string name, double densityRatio, double speedRatio, double decibelsPerWavelength) =>
        new(name, SedimentTableKind.Jensen, densityRatio, speedRatio, decibelsPerWavelength / (1.5 * speedRatio), "S", []);

    /// <summary>From the loss parameter δ at the 1528 m/s water of the library it was read in: k = 40 000 π δ / (c ln 10).</summary>
    private static SedimentRow Surficial(string name, double densityRatio, double speedRatio, double delta, params string[] aliases) =>
        new(name, SedimentTableKind.Surficial, densityRatio, speedRatio, delta * 40_000 * Math.PI / (Math.Log(10) * speedRatio * 1528), "S", aliases);
}
