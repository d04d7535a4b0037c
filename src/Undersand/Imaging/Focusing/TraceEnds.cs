namespace Undersand.Imaging.Focusing;

/// <summary>Which levels the ends of a trace cut off. Close to an end the exact ray decides, so that every engine counts the same levels.</summary>
internal readonly unsafe struct TraceEnds(TileColumns columns, EchoSet echoes, FocusSettings settings, VoxelGrid grid, LevelPanel panel)
{
    /// <summary>Nearer to an end than this, in intervals, the polynomial is not trusted.</summary>
    private const float Doubt = 0.1f;

    /// <summary>Shortens a column's levels to those whose path time lies inside the trace.</summary>
    /// <param name="job">The job.</param>
    /// <param name="i">Cell of the job.</param>
    /// <param name="lane">Column of the job.</param>
    /// <param name="c">Coefficients of the cell.</param>
    /// <param name="column">Column of the tile.</param>
    /// <param name="trace">The trace.</param>
    public void Clip(RowJob* job, int i, int lane, float* c, int column, int trace)
    {
        int first = job->First[i];
        job->Whole[i] = job->PaddedLevels;
        int end = panel.Count;
        while (first < end && !Inside(job, i, lane, c, column, trace, first))
            first++;
        while (first < end && !Inside(job, i, lane, c, column, trace, end - 1))
            end--;
        (job->First[i], job->End[i]) = (first, end);
    }

    private bool Inside(RowJob* job, int i, int lane, float* c, int column, int trace, int level)
    {
        float place = KernelScalar.Place(job, c, lane, level), low = job->LeastPlace[i], high = job->GreatestPlace[i];
        if (Math.Abs(place - low) > Doubt && Math.Abs(place - high) > Doubt)
            return place > low && place < high;
        var path = new ExactPath(columns, column, settings);
        double burial = grid.BurialAt(panel.First + level);
        double time = path.LegTime(echoes.Sources[trace], burial) + path.LegTime(echoes.Receivers[trace], burial);
        double exact = (time - echoes.StartTimes[trace]) / echoes.Interval;
        return exact >= 0 && exact < echoes.SampleCount - 1;
    }
}
