using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>The plain version: what the sum is, written down without any art, in double precision.</summary>
internal sealed class PlainEngine(VoxelGrid grid, TileColumns columns, EchoSet echoes, FocusSettings settings, Aperture aperture)
{
    private const int Lanes = 8;

    private readonly TrackFrame _track = new(echoes.TrackAzimuth);

    /// <summary>Sums the eight columns from <paramref name="first"/> on into the group's sums; says which groups got something.</summary>
    public void Focus(int first, LookSums[] groups, bool[] added)
    {
        var sums = new ColumnSums[Lanes];
        for (int lane = 0; lane < Lanes; lane++)
            sums[lane] = new ColumnSums(settings.Groups, grid.CountZ);
        var paths = new ExactPath[Lanes];
        for (int lane = 0; lane < Lanes; lane++)
            paths[lane] = new ExactPath(columns, first + lane, settings);
        for (int trace = 0; trace < echoes.TraceCount; trace++)
            AddTrace(first, trace, paths, sums);
        for (int lane = 0; lane < Lanes; lane++)
            for (int group = 0; group < settings.Groups; group++)
                if (sums[lane].Flush(group, groups[group], (first + lane) * grid.CountZ))
                    added[group] = true;
    }

    private void AddTrace(int first, int trace, ExactPath[] paths, ColumnSums[] sums)
    {
        (float sx, float sy, float sz) = columns.ToLocal(echoes.Sources[trace]);
        (float rx, float ry, float rz) = columns.ToLocal(echoes.Receivers[trace]);
        Leg8 source = columns.LegAt(first, sx, sy, sz), receiver = columns.LegAt(first, rx, ry, rz);
        Vector256<float> cosine = TileColumns.Load(columns.Cosine, first);
        aperture.Edges(source, cosine, out Vector256<float> s0, out Vector256<float> s1);
        aperture.Edges(receiver, cosine, out Vector256<float> r0, out Vector256<float> r1);
        Vector256<float> k0 = Vector256.Max(s0, r0), slope = Aperture.Slope(k0, Vector256.Max(s1, r1));
        Vector256<float> along = _track.Along(columns, first, 0.5f * (sx + rx), 0.5f * (sy + ry));
        Vector256<int> group = aperture.Group(along, aperture.InverseExtent(source.Height));
        for (int lane = 0; lane < Lanes; lane++)
            if (columns.Valid[first + lane] != 0 && k0[lane] < grid.CountZ - 1)
                AddColumn(trace, paths[lane], k0[lane], slope[lane], sums[lane], group[lane]);
    }

    private void AddColumn(int trace, in ExactPath path, float k0, float slope, ColumnSums sums, int group)
    {
        for (int k = Math.Max(0, (int)MathF.Floor(k0) + 1); k < grid.CountZ; k++)
        {
            double weight = Math.Min(1, (k - k0) * slope);
            double time = path.LegTime(echoes.Sources[trace], grid.BurialAt(k)) + path.LegTime(echoes.Receivers[trace], grid.BurialAt(k));
            double place = (time - echoes.StartTimes[trace]) / echoes.Interval;
            if (!(place >= 0 && place < echoes.SampleCount - 1))
                continue;
            (double re, double im) = SampleAt(echoes.Trace(trace), place);
            double turns = echoes.Carrier * time;
            (double sin, double cos) = Math.SinCos(2 * Math.PI * (turns - Math.Round(turns)));
            sums.Add(group, k, weight * (re * cos - im * sin), weight * (re * sin + im * cos), weight * weight * (re * re + im * im));
        }
    }

    private static (double Real, double Imaginary) SampleAt(ReadOnlySpan<float> trace, double place)
    {
        int i = (int)place;
        double f = place - i;
        return (trace[2 * i] + f * (trace[2 * i + 2] - trace[2 * i]), trace[2 * i + 1] + f * (trace[2 * i + 3] - trace[2 * i + 1]));
    }
}
