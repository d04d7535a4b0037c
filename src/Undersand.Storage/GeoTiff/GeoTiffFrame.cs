namespace Undersand.Storage.GeoTiff;

/// <summary>Where a GeoTIFF says it lies (OGC 19-008r4, GeoTIFF 1.1).</summary>
internal static class GeoTiffFrame
{
    private const int UserDefined = 32767;

    /// <summary>The EPSG code of the projected system, else of the geographic one; null where none is said.</summary>
    public static int? Epsg(TiffTags tags) => Key(tags, 3072) ?? Key(tags, 2048);

    /// <summary>The upper left corner and the size of a pixel; null where there is none, or where rows don't run east.</summary>
    public static (double West, double North, double Across, double Down)? Of(TiffTags tags)
    {
        double[] scale = tags.Doubles(33550), tie = tags.Doubles(33922), matrix = tags.Doubles(34264);
        (double West, double North, double Across, double Down) frame;
        if (scale.Length >= 2 && tie.Length >= 6)
            frame = (tie[3] - tie[0] * scale[0], tie[4] + tie[1] * scale[1], scale[0], scale[1]);
        else if (matrix.Length == 16 && matrix[1] == 0 && matrix[4] == 0)
            frame = (matrix[3], matrix[7], matrix[0], -matrix[5]);
        else
            return null;
        // GTRasterType 2: the tie point is the middle of a pixel.
        if (Key(tags, 1025) == 2)
            frame = frame with { West = frame.West - 0.5 * frame.Across, North = frame.North + 0.5 * frame.Down };
        return double.IsFinite(frame.West) && double.IsFinite(frame.North) && frame.Across is > 1e-4 and < 1e5 && frame.Down is > 1e-4 and < 1e5 ? frame : null;
    }

    private static int? Key(TiffTags tags, int key)
    {
        long[] keys = tags.Wholes(34735);
        for (int i = 4; i + 3 < keys.Length; i += 4)
            if (keys[i] == key && keys[i + 1] == 0 && keys[i + 3] != UserDefined)
                return (int)keys[i + 3];
        return null;
    }
}
