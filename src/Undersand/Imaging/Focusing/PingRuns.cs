namespace Undersand.Imaging.Focusing;

/// <summary>Consecutive traces with one source position.</summary>
/// <param name="FirstTrace">Index of the first.</param>
/// <param name="Traces">How many.</param>
internal readonly record struct PingRun(int FirstTrace, int Traces);

/// <summary>Finds the pings that can reach a tile.</summary>
internal static class PingRuns
{
    /// <summary>Beyond this angle from the vertical no straight line from a transducer to a voxel is worth a look, whatever the slope.</summary>
    private const double SteepestAngle = 85 * (Math.PI / 180), Margin = 5 * (Math.PI / 180);

    /// <summary>
    /// Pings in order, without those whose source is surely too far: a leg inside the aperture leaves the plane's normal by no more than the
    /// greater of the angles in water and sediment, so the straight line leaves the vertical by no more than that and the slope.
    /// </summary>
    public static PingRun[] Reaching(VoxelGrid grid, TileColumns columns, EchoSet echoes, Aperture aperture, FocusSettings settings)
    {
        double steepest = 0;
        for (int i = 0; i < TileColumns.Count; i++)
            steepest = Math.Max(steepest, columns.SlopeEast[i] * columns.SlopeEast[i] + columns.SlopeNorth[i] * columns.SlopeNorth[i]);
        double inSediment = Math.Asin(Math.Sin(aperture.OuterAngle) * settings.SedimentSoundSpeed / settings.WaterSoundSpeed);
        double angle = Math.Min(SteepestAngle, Math.Max(aperture.OuterAngle, inSediment) + Math.Atan(Math.Sqrt(steepest)) + Margin);
        double deepest = columns.GreatestDepth + grid.BurialAt(grid.CountZ), half = 0.5 * TileColumns.Size * grid.Spacing;
        var runs = new List<PingRun>();
        for (int first = 0; first < echoes.TraceCount;)
        {
            int next = first + 1;
            while (next < echoes.TraceCount && echoes.Sources[next] == echoes.Sources[first])
                next++;
            GridPoint source = echoes.Sources[first];
            double dx = Math.Max(0, Math.Abs(source.Easting - columns.OriginEasting) - half), dy = Math.Max(0, Math.Abs(source.Northing - columns.OriginNorthing) - half);
            double reach = Math.Max(0, deepest - source.Depth) * Math.Tan(angle);
            if (dx * dx + dy * dy <= reach * reach)
                runs.Add(new PingRun(first, next - first));
            first = next;
        }
        return [.. runs];
    }
}
