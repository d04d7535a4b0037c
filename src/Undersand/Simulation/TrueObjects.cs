namespace Undersand.Simulation;

/// <summary>What the truth says of a scene's object.</summary>
internal static class TrueObjects
{
    public static TrueObject Of(SceneObject thing, Seafloor seafloor, double smallestBody)
    {
        (string shape, double length, double width, double thickness, Angle? azimuth) = thing switch
        {
            BuriedSphere s => ("sphere", 2 * s.Body.Radius, 2 * s.Body.Radius, 2 * s.Body.Radius, (Angle?)null),
            BuriedCylinder c => ("cylinder", c.Length, c.Diameter, c.Diameter, c.Azimuth),
            BuriedSlab b => ("slab", b.Length, b.Width, b.Thickness, b.Azimuth),
            BuriedGroup g => ("group", g.Length, g.Width, g.Thickness, g.Azimuth),
            BuriedPoint => ("point", 0, 0, 0, null),
            _ => throw new ArgumentException($"the truth knows no {thing.GetType().Name}", nameof(thing)),
        };
        double top = seafloor.SmoothedAt(thing.Easting, thing.Northing) + thing.Burial;
        return new TrueObject
        {
            Name = thing.Name,
            Shape = shape,
            Material = thing.Material,
            Centre = new GridPoint(thing.Easting, thing.Northing, top + 0.5 * thickness),
            BurialOfTop = thing.Burial,
            Length = length,
            Width = width,
            Thickness = thickness,
            Azimuth = azimuth,
            IsBody = Math.Max(length, width) >= smallestBody && !thing.IsDecoy,
            IsDecoy = thing.IsDecoy,
        };
    }
}
