using System.Runtime.Intrinsics;
using Undersand.Acoustics;

namespace Undersand.Imaging.Focusing;

/// <summary>How far the polynomials' leg times are from exact rays, over all that the aperture lets through.</summary>
internal static class PathError
{
    private const int Heights = 4, Offsets = 12, Depths = 11;

    /// <summary>Greatest error of a path (two legs), in samples, for heights between two bounds and columns at which polynomials begin anywhere.</summary>
    public static unsafe double Greatest(
        LevelPanel[] panels, double interval, FocusSettings settings, Aperture aperture, bool refine, double least, double greatest)
    {
        double worst = 0;
        var times = new LegTimes(settings.WaterSoundSpeed, settings.SedimentSoundSpeed, interval, refine);
        float* c = stackalloc float[PathPolynomial.Nodes * RowJob.Lanes];
        foreach (LevelPanel panel in panels)
            for (int ih = 0; ih < Heights; ih++)
            {
                double height = least * Math.Pow(greatest / least, ih / (Heights - 1.0));
                double nearest = aperture.Reach(height, panel.FirstBurial), farthest = aperture.Reach(height, panel.LastBurial - panel.Spacing);
                for (int io = 0; io < 2 * Offsets; io++)
                {
                    double offset = io < Offsets ? nearest * io / Offsets : nearest + (farthest - nearest) * (io - Offsets) / Offsets;
                    worst = Math.Max(worst, 2 * OneLeg(panel, times, aperture, height, offset, interval, settings, c));
                }
            }
        return worst;
    }

    private static unsafe double OneLeg(
        LevelPanel panel, LegTimes times, Aperture aperture, double height, double offset, double interval, FocusSettings settings, float* c)
    {
        double begins = Math.Max(panel.FirstBurial, panel.FirstBurial + (offset - aperture.Reach(height, panel.FirstBurial)) / aperture.Reach(0, 1));
        Vector256<float> h = Vector256.Create((float)height), square = Vector256.Create((float)(offset * offset));
        NodeBurials.Map(panel, Vector256.Create((float)begins), out Vector256<float> middle, out Vector256<float> half);
        Vector256<float>* at = stackalloc Vector256<float>[PathPolynomial.Nodes], none = stackalloc Vector256<float>[PathPolynomial.Nodes];
        for (int j = 0; j < PathPolynomial.Nodes; j++)
            (at[j], none[j]) = (times.At(h, NodeBurials.At(panel, middle, half, j), square), Vector256<float>.Zero);
        PathPolynomial.OfPath(at, none, 0, c, out Vector256<int> origin, out _, out _);
        double worst = 0;
        for (int i = 0; i < Depths; i++)
        {
            double burial = begins + (panel.LastBurial - panel.Spacing - begins) * i / (Depths - 1);
            if (burial <= 0)
                continue;
            double z = (Math.Sqrt(burial + panel.Shift) - panel.Centre - middle[0]) / half[0], value = 0;
            for (int m = PathPolynomial.Nodes - 1; m >= 0; m--)
                value = value * z + c[m * RowJob.Lanes];
            double exact = Refraction.LegTime(height, burial, offset, settings.WaterSoundSpeed, settings.SedimentSoundSpeed) / interval;
            worst = Math.Max(worst, Math.Abs(value + origin[0] - exact));
        }
        return worst;
    }
}
