namespace Undersand.Imaging.Conditioning;

/// <summary>Times of the seabed's echo and of the direct arrival for a level seabed.</summary>
public static class SeabedGeometry
{
    /// <summary>Path time source → seabed → receiver by the mirror image of the source, seconds.</summary>
    public static double EchoTime(GridPoint source, GridPoint receiver, double seabedDepth, double soundSpeed)
    {
        double vertical = 2 * seabedDepth - source.Depth - receiver.Depth, horizontal = source.HorizontalDistanceTo(receiver);
        return Math.Sqrt(vertical * vertical + horizontal * horizontal) / soundSpeed;
    }

    /// <summary>The vertical extent of the echo's unfolded path, metres: the heights of source and receiver together where the seabed is level; NaN where there is none.</summary>
    public static double VerticalOf(GridPoint source, GridPoint receiver, double time, double soundSpeed)
    {
        double horizontal = source.HorizontalDistanceTo(receiver), path = time * soundSpeed, vertical2 = path * path - horizontal * horizontal;
        return vertical2 > 0 ? Math.Sqrt(vertical2) : double.NaN;
    }

    /// <summary>Path time of an unfolded path of this vertical extent, seconds.</summary>
    public static double TimeOf(GridPoint source, GridPoint receiver, double vertical, double soundSpeed)
    {
        double horizontal = source.HorizontalDistanceTo(receiver);
        return Math.Sqrt(vertical * vertical + horizontal * horizontal) / soundSpeed;
    }

    /// <summary>The seabed's depth that explains an echo at this path time; NaN where none does.</summary>
    public static double DepthFor(GridPoint source, GridPoint receiver, double time, double soundSpeed)
    {
        double horizontal = source.HorizontalDistanceTo(receiver), path = time * soundSpeed;
        double vertical2 = path * path - horizontal * horizontal;
        return vertical2 > 0 ? 0.5 * (Math.Sqrt(vertical2) + source.Depth + receiver.Depth) : double.NaN;
    }

    /// <summary>Where a level seabed at this depth reflects, between source and receiver.</summary>
    public static GridPoint ReflectionPoint(GridPoint source, GridPoint receiver, double seabedDepth)
    {
        double hs = seabedDepth - source.Depth, hr = seabedDepth - receiver.Depth, part = hs / (hs + hr);
        return new(source.Easting + part * (receiver.Easting - source.Easting), source.Northing + part * (receiver.Northing - source.Northing), seabedDepth);
    }
}
