namespace Undersand.Simulation;

/// <summary>The paths that see no object: direct, by way of the vehicle's underside, by way of the water surface. Mirrors, so images of the source.</summary>
internal static class PlainPaths
{
    public static void Add(SceneModel model, GridPoint source, GridPoint receiver, TraceBuilder trace)
    {
        Paths paths = model.Plan.Paths;
        double c = model.Scene.Water.SoundSpeed, across = source.HorizontalDistanceTo(receiver);
        if (paths.Direct != 0)
            Image(across, receiver.Depth - source.Depth, paths.Direct);
        GridPoint middle = source.MidpointTo(receiver);
        double floor = model.Seafloor.SmoothedAt(middle.Easting, middle.Northing);
        double hs = floor - source.Depth, hr = floor - receiver.Depth;
        if (paths.Vehicle != 0)
        {
            // The underside is taken to be level with the array: the mean of source and receiver.
            double down = hs + 0.5 * (hs + hr) + 0.5 * (hs + hr) + hr, R = Reflect(across, down);
            Image(across, down, R * R * paths.Vehicle);
        }
        if (paths.Surface != 0)
        {
            Image(across, source.Depth + receiver.Depth, paths.Surface * paths.Direct);
            double up = source.Depth + floor + hr, later = hs + floor + receiver.Depth;
            Image(across, up, Reflect(across, up) * paths.Surface);
            Image(across, later, Reflect(across, later) * paths.Surface);
        }

        double Reflect(double level, double vertical) => model.Path.Reflection(vertical / Math.Sqrt(level * level + vertical * vertical));

        void Image(double level, double vertical, double factor)
        {
            double r = Math.Max(Math.Sqrt(level * level + vertical * vertical), 0.01);
            trace.AddPoint(r / c, factor / r, 0);
        }
    }
}
