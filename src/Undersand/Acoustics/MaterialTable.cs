using System.Diagnostics.CodeAnalysis;

namespace Undersand.Acoustics;

/// <summary>Materials of buried things.</summary>
/// <remarks>
/// Sources of the values marked S: CRC Handbook of Chemistry and Physics, “Speed of sound in various media”, table 1 (CRC); Jensen, Kuperman,
/// Porter and Schmidt, Computational Ocean Acoustics, table 1.3 (JKPS); public tables of wave speeds in rocks and building materials, as
/// listed in docs/science/reflection-and-transmission.md. Values marked M are from memory and have not been looked up.
/// </remarks>
public static class MaterialTable
{
    /// <summary>All rows.</summary>
    public static IReadOnlyList<MaterialRow> Rows { get; } =
    [
        new("iron, cast", Material.Iron, 7200, 4994, 2809, "M, S CRC, S CRC", "graphitised cast iron from the sea is far lighter and slower: no value"),
        new("iron, wrought", Material.Iron, 7850, 5960, 3240, "S, S CRC, S CRC"),
        new("steel, mild", Material.Iron, 7850, 5900, 3230, "M, M, M"),
        new("bronze", Material.Other, 8800, 3530, 2230, "M, M, M", "tin, about 10 %"),
        new("copper", Material.Other, 8930, 4760, 2325, "M, S CRC, S CRC", "annealed"),
        new("lead", Material.Other, 11400, 2160, 700, "S, S CRC, S CRC", "annealed"),
        new("granite", Material.Stone, 2650, 5250, 2900, "M, S, S", "middle of 4500–6000 and 2500–3300 m/s"),
        new("basalt", Material.Stone, 2700, 5250, 2500, "S JKPS, S JKPS, S JKPS", "range 5000–6000 m/s"),
        new("limestone", Material.Stone, 2400, 3000, 1500, "S JKPS, S JKPS, S JKPS", "range 3500–6000 and 2000–3300 m/s elsewhere"),
        new("chalk", Material.Stone, 2200, 2400, 1000, "S JKPS, S JKPS, S JKPS", "range 2300–2600 and 1100–1300 m/s elsewhere"),
        new("brick, earthenware", Material.Ceramic, 1800, 3650, 2100, "S, S, M", "range 3600–4200 m/s; wet low-fired ware may be slower"),
        new("concrete", Material.Other, 2300, 3450, 2100, "M, S, M", "range 3200–3700 m/s"),
        new("glass", Material.Other, 2500, 5640, 3280, "M, M, M", "soda-lime"),
        new("oak, across the grain", Material.Timber, 1100, 1900, null, "M, M", "sound, waterlogged; bound 1700–2100 m/s"),
        new("oak, along the grain", Material.Timber, 1100, 3800, null, "M, M", "sound, waterlogged"),
        new("oak, degraded", Material.Timber, 1050, 1550, null, "M, M", "waterlogged; bound 1450–1650 m/s"),
        new("pine", Material.Timber, 1000, 1600, null, "M, M", "waterlogged; bound 1450–1800 m/s"),
        new("peat", Material.Other, 1050, 1450, null, "M, M", "wet and free of gas; bound 1400–1550 m/s"),
        new("gas", Material.Gas, 1.24, 345, null, "S, S", "as used by Jech et al. (2015), JASA 138, 3742"),
    ];

    /// <summary>Finds a row by name, whatever the case.</summary>
    /// <param name="name">The name.</param>
    /// <param name="row">The row, or null.</param>
    public static bool TryFind(string name, [NotNullWhen(true)] out MaterialRow? row)
    {
        row = Rows.FirstOrDefault(r => string.Equals(r.Name, name.Trim(), StringComparison.OrdinalIgnoreCase));
        return row is not null;
    }
}
