using Undersand.Storage;

namespace Undersand.Runs.Scenes;

/// <summary>The origin that the places of a scene file count from.</summary>
internal sealed class Place
{
    public Place(JsonFields root)
    {
        JsonFields origin = root.NeedObject("origin");
        Easting = origin.Need("easting_m", -1e7, 1e7);
        Northing = origin.Need("northing_m", -1e7, 1e7);
        origin.CautionUnknown();
    }

    public double Easting { get; }

    public double Northing { get; }

    public double East(JsonFields fields, string name = "east_m") => Easting + (fields.Number(name, -1e5, 1e5) ?? 0);

    public double North(JsonFields fields, string name = "north_m") => Northing + (fields.Number(name, -1e5, 1e5) ?? 0);
}
