using Microsoft.AspNetCore.Http;

namespace Undersand.Workbench;

/// <summary>The units in which a viewer wants to see lengths. Everything kept, sent and reported is in metres; only what a page shows is converted, here and in the client's units.ts.</summary>
/// <remarks>With fathoms, only depths of the water are in fathoms and everything shorter in feet, as on charts (common practice, no source). Grid coordinates are always in metres.</remarks>
/// <param name="Name">In the cookie, in links and for people.</param>
/// <param name="Depth">Of what lies below the water surface.</param>
/// <param name="Length">Of burial, size, distance and height above the seabed.</param>
/// <param name="Said">What the numbers of a page are in.</param>
internal sealed record Units(string Name, LengthUnit Depth, LengthUnit Length, string Said)
{
    public static readonly Units Metres = new("metres", LengthUnit.Metre, LengthUnit.Metre, "metres"),
        Feet = new("feet", LengthUnit.Foot, LengthUnit.Foot, "grid in metres, lengths and depths in feet"),
        Fathoms = new("fathoms", LengthUnit.Fathom, LengthUnit.Foot, "grid in metres, depths in fathoms, other lengths in feet");

    public static IReadOnlyList<Units> All { get; } = [Metres, Feet, Fathoms];

    /// <summary>What whoever asks wants: as the link says, else as was chosen before, else metres.</summary>
    public static Units Of(HttpContext? context) => Find(context?.Request.Query["units"]) ?? Named(context?.Request.Cookies["units"]);

    /// <summary>The units of a name; metres where it is none.</summary>
    public static Units Named(string? name) => Find(name) ?? Metres;

    private static Units? Find(string? name) => All.FirstOrDefault(u => u.Name == name);
}
