using Undersand.Imaging;

namespace Undersand.Detection;

/// <summary>How one line sees a place.</summary>
/// <param name="Line">Index of the line.</param>
/// <param name="Ratio">Its energy over its background.</param>
/// <param name="Background">That background.</param>
/// <param name="Blur">Its blur there.</param>
/// <param name="View">From where it saw the column; null if it doesn't say.</param>
/// <param name="Supports">Whether the line speaks for a body.</param>
internal sealed record LineSupport(int Line, double Ratio, double Background, Blur Blur, Viewpoint? View, bool Supports)
{
    // Without an object one line in fifty is that high.
    public const double Least = 4;

    /// <summary>Receivers less spread than this can't tell one side of the track from the other.</summary>
    public const double LeastAperture = 0.3;

    /// <summary>Whether the line knows its own place across the track.</summary>
    public bool KnowsAcross => View is not { } view || view.AcrossAperture >= LeastAperture;

    /// <summary>All lines that saw a voxel, in their order.</summary>
    public static List<LineSupport> At(EvidenceField field, IImageModel model, int ix, int iy, int iz)
    {
        var result = new List<LineSupport>();
        double easting = field.Grid.EastingAt(ix), northing = field.Grid.NorthingAt(iy), burial = field.Grid.BurialAt(iz);
        foreach (int line in field.Lines)
        {
            if (!field.TryLineAt(line, ix, iy, iz, out float re, out float im, out float background))
                continue;
            double ratio = (re * (double)re + im * (double)im) / background;
            result.Add(new(line, ratio, background, model.BlurAt(line, easting, northing, burial), model.ViewAt(line, easting, northing), ratio >= Least));
        }
        // Where only the sum stands out, the line that is highest has to answer for it.
        if (result.Count > 0 && !result.Any(s => s.Supports))
        {
            int best = 0;
            for (int i = 1; i < result.Count; i++)
                if (result[i].Ratio > result[best].Ratio)
                    best = i;
            result[best] = result[best] with { Supports = true };
        }
        return result;
    }
}
