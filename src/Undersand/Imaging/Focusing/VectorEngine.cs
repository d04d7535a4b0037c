namespace Undersand.Imaging.Focusing;

/// <summary>The fast version: blocks of 16 × 16 columns, a few pings' re-packed traces at a time, polynomials for the path times, vectors over the levels.</summary>
internal sealed class VectorEngine(VoxelGrid grid, TileColumns columns, EchoSet echoes, FocusSettings settings, Aperture aperture, VectorPath path)
{
    /// <summary>Most memory for re-packed traces at a time, bytes.</summary>
    private const long RecordBudget = 64L << 20;

    private const int Blocks = TileColumns.Count / BlockWorker.Columns;

    /// <summary>Sums; false, with nothing done, where the polynomials are not good enough and exact rays are needed.</summary>
    public bool TryFocus(LookSums[] groups, bool[] added, ParallelOptions options)
    {
        var plan = new VectorPlan(grid, columns, echoes, settings, aperture);
        if (plan.Pings.Length == 0)
            return true;
        if (!plan.GoodEnough)
            return false;
        int most = (int)Math.Max(1, RecordBudget / TraceRecords.BytesPerTrace(echoes));
        using var workers = new ThreadLocal<BlockWorker>(() => new BlockWorker(grid, columns, echoes, settings, aperture, plan, path), trackAllValues: true);
        using var records = new TraceRecords(echoes, Math.Max(Math.Min(most, plan.Pings.Sum(p => p.Traces)), plan.Pings.Max(p => p.Traces)));
        try
        {
            for (int first = 0; first < plan.Pings.Length;)
            {
                int count = Fitting(plan.Pings, first, most);
                FocusChunk(plan.Pings.AsMemory(first, count), records, workers, groups, added, options);
                first += count;
            }
        }
        finally
        {
            foreach (BlockWorker worker in workers.Values)
                worker.Dispose();
        }
        return true;
    }

    /// <summary>How many pings from <paramref name="first"/> on fit into the room for records; at least one.</summary>
    private static int Fitting(PingRun[] pings, int first, int most)
    {
        int traces = pings[first].Traces, next = first + 1;
        for (; next < pings.Length && traces + pings[next].Traces <= most; next++)
            traces += pings[next].Traces;
        return next - first;
    }

    private static void FocusChunk(ReadOnlyMemory<PingRun> pings, TraceRecords records, ThreadLocal<BlockWorker> workers, LookSums[] groups, bool[] added, ParallelOptions options)
    {
        int[] slots = new int[pings.Length];
        for (int i = 1; i < slots.Length; i++)
            slots[i] = slots[i - 1] + pings.Span[i - 1].Traces;
        Parallel.For(0, pings.Length, options, i =>
        {
            PingRun ping = pings.Span[i];
            for (int t = 0; t < ping.Traces; t++)
                records.Pack(slots[i] + t, ping.FirstTrace + t);
        });
        Parallel.For(0, Blocks, options, block =>
        {
            var mine = new bool[added.Length];
            workers.Value!.Focus(block, pings.Span, records, groups, mine);
            for (int group = 0; group < added.Length; group++)
                if (mine[group])
                    Volatile.Write(ref added[group], true);
        });
    }
}
