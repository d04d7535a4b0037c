using Undersand.Acoustics;
using Undersand.Imaging.Focusing;

namespace Undersand.Tests.Imaging.Focusing;

/// <summary>The way forward over level seabed, voxels to traces, written down apart from the engines: a voxel of value x puts w·x·e^{−iφ} at its path time, shared between two samples.</summary>
internal sealed class ForwardModel(EchoSet echoes, VoxelGrid grid, double depth, FocusSettings settings)
{
    /// <summary>The inner product of all traces with those that one voxel of value re + i·im would make.</summary>
    public double Project(int ix, int iy, int iz, double re, double im)
    {
        double sum = 0;
        for (int t = 0; t < echoes.TraceCount; t++)
        {
            double w = Weight(t, ix, iy, iz);
            if (w <= 0)
                continue;
            double time = Leg(echoes.Sources[t], ix, iy, iz) + Leg(echoes.Receivers[t], ix, iy, iz);
            double place = (time - echoes.StartTimes[t]) / echoes.Interval;
            if (place < 0 || place >= echoes.SampleCount - 1)
                continue;
            int i = (int)place;
            (double sin, double cos) = Math.SinCos(-2 * Math.PI * echoes.Carrier * time);
            (double a, double b) = (w * (re * cos - im * sin), w * (re * sin + im * cos));
            ReadOnlySpan<float> s = echoes.Trace(t);
            sum += (1 - (place - i)) * (a * s[2 * i] + b * s[2 * i + 1]) + (place - i) * (a * s[2 * i + 2] + b * s[2 * i + 3]);
        }
        return sum;
    }

    /// <summary>The taper as docs/science/focusing.md has it, for level seabed.</summary>
    private double Weight(int trace, int ix, int iy, int iz)
    {
        double k0 = Math.Max(Edge(echoes.Sources[trace], ix, iy, 0), Edge(echoes.Receivers[trace], ix, iy, 0));
        double k1 = Math.Max(Edge(echoes.Sources[trace], ix, iy, settings.Taper.Radians), Edge(echoes.Receivers[trace], ix, iy, settings.Taper.Radians));
        return Math.Clamp((iz - k0) / (k1 - k0), 0, 1);
    }

    private double Edge(GridPoint p, int ix, int iy, double inside)
    {
        double angle = settings.MaxAngle.Radians - inside, refracted = Math.Asin(Math.Sin(angle) * settings.SedimentSoundSpeed / settings.WaterSoundSpeed);
        double offset = double.Hypot(p.Easting - grid.EastingAt(ix), p.Northing - grid.NorthingAt(iy));
        return ((offset - (depth - p.Depth) * Math.Tan(angle)) / Math.Tan(refracted) - grid.FirstBurial) / grid.Spacing;
    }

    private double Leg(GridPoint p, int ix, int iy, int iz) =>
        Refraction.LegTime(depth - p.Depth, grid.BurialAt(iz), double.Hypot(p.Easting - grid.EastingAt(ix), p.Northing - grid.NorthingAt(iy)), settings.WaterSoundSpeed, settings.SedimentSoundSpeed);
}
