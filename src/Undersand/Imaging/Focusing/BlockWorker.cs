using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Undersand.Imaging.Focusing;

/// <summary>Sums traces into one block of columns of a tile. One thread's own room; used for one block after another.</summary>
internal sealed unsafe class BlockWorker : IDisposable
{
    public const int Edge = 16, Columns = Edge * Edge, Rows8 = Columns / RowJob.Lanes;
    private const int Lanes = RowJob.Lanes, Nodes = PathPolynomial.Nodes, Most = RowJob.MostTraces;

    private readonly VoxelGrid _grid;
    private readonly TileColumns _columns;
    private readonly EchoSet _echoes;
    private readonly FocusSettings _settings;
    private readonly Aperture _aperture;
    private readonly VectorPlan _plan;
    private readonly VectorPath _path;
    private readonly int _greatestPadded;
    private readonly TrackFrame _track;
    private readonly AlignedFloats _sums, _counts, _rows, _job, _ownMemory;
    private readonly RowJob* _row;
    private readonly int* _own;

    public BlockWorker(VoxelGrid grid, TileColumns columns, EchoSet echoes, FocusSettings settings, Aperture aperture, VectorPlan plan, VectorPath path)
    {
        (_grid, _columns, _echoes, _settings, _aperture, _plan, _path) = (grid, columns, echoes, settings, aperture, plan, path);
        _track = new TrackFrame(echoes.TrackAzimuth);
        _greatestPadded = plan.Panels.Max(p => p.Padded);
        _sums = new AlignedFloats(3L * _greatestPadded * Columns * settings.Groups);
        _counts = new AlignedFloats((_greatestPadded + 1L) * Columns * settings.Groups);
        _rows = new AlignedFloats(Rows8 * SourceRow.Floats);
        _job = new AlignedFloats(JobRoom.Floats(_greatestPadded));
        _ownMemory = new AlignedFloats(Most * Lanes);
        _row = JobRoom.Lay(_job.At, _greatestPadded);
        _own = (int*)_ownMemory.At;
    }

    public void Dispose()
    {
        _sums.Dispose();
        _counts.Dispose();
        _rows.Dispose();
        _job.Dispose();
        _ownMemory.Dispose();
    }

    /// <summary>Adds a chunk of pings, whose records lie in slots from 0 on, to a block of the tile.</summary>
    public void Focus(int block, ReadOnlySpan<PingRun> pings, TraceRecords records, LookSums[] groups, bool[] added)
    {
        int blocksX = TileColumns.Size / Edge, firstColumn = block / blocksX * Edge * TileColumns.Size + block % blocksX * Edge;
        if (!AnyValid(firstColumn))
            return;
        foreach (LevelPanel panel in _plan.Panels)
        {
            _sums.Clear();
            _counts.Clear();
            JobRoom.SetPanel(_row, panel, 2 * Math.PI * _echoes.Carrier * _plan.Interval);
            int slot = 0;
            foreach (PingRun ping in pings)
            {
                AddPing(firstColumn, panel, ping, slot, records);
                slot += ping.Traces;
            }
            Flush(firstColumn, panel, groups, added);
        }
    }

    /// <summary>Where the eight columns of a row lie in the tile's arrays.</summary>
    private static int ColumnOf(int firstColumn, int row8) => firstColumn + row8 / (Edge / Lanes) * TileColumns.Size + row8 % (Edge / Lanes) * Lanes;

    private bool AnyValid(int firstColumn)
    {
        for (int row = 0; row < Rows8; row++)
            for (int lane = 0; lane < Lanes; lane++)
                if (_columns.Valid[ColumnOf(firstColumn, row) + lane] != 0)
                    return true;
        return false;
    }

    private void AddPing(int firstColumn, LevelPanel panel, PingRun ping, int slot, TraceRecords records)
    {
        var rows = (SourceRow*)_rows.At;
        (float x, float y, float z) = _plan.Places.Sources[ping.FirstTrace];
        bool any = false;
        for (int row = 0; row < Rows8; row++)
        {
            int column = ColumnOf(firstColumn, row);
            rows[row].Set(_columns, _aperture, column, x, y, z, panel.First + panel.Count - 1);
            any |= rows[row].Reached;
        }
        if (!any)
            return;
        for (int t = 0; t < ping.Traces; t += Most)
        {
            int traces = Math.Min(Most, ping.Traces - t);
            for (int row = 0; row < Rows8; row++)
                if (rows[row].Reached && Prepare(firstColumn, row, panel, ping.FirstTrace + t, traces, slot + t, records, x, y))
                    Add();
        }
    }

    private void Add()
    {
        switch (_path)
        {
            case VectorPath.Wide512:
                Kernel512.Add(_row);
                break;
            case VectorPath.Wide256:
                Kernel256.Add(_row);
                break;
            default:
                KernelScalar.Add(_row);
                break;
        }
    }

    /// <summary>Fills the job for up to four traces and eight columns; false where nothing counts.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    [SkipLocalsInit]
    private bool Prepare(int firstColumn, int row8, LevelPanel panel, int trace, int traces, int slot, TraceRecords records, float sourceX, float sourceY)
    {
        int column = ColumnOf(firstColumn, row8);
        ref SourceRow source = ref ((SourceRow*)_rows.At)[row8];
        Vector256<float> cosine = TileColumns.Load(_columns.Cosine, column), sine = TileColumns.Load(_columns.SineSquared, column);
        Leg8* legs = stackalloc Leg8[Most];
        Vector256<float> begins = Vector256.Create(Aperture.Never);
        Vector256<int> last = Vector256.Create(panel.First + panel.Count - 1);
        bool any = false;
        for (int r = 0; r < traces; r++)
        {
            (float x, float y, float z) = _plan.Places.Receivers[trace + r];
            legs[r] = _columns.LegAt(column, x, y, z);
            _aperture.Edges(legs[r], cosine, out Vector256<float> k0, out Vector256<float> k1);
            k0 = Vector256.Max(k0, source.K0);
            Vector256<float> slope = Aperture.Slope(k0, Vector256.Max(k1, source.K1));
            Vector256<float> along = _track.Along(_columns, column, 0.5f * (sourceX + x), 0.5f * (sourceY + y));
            Vector256<int> group = _aperture.Group(along, source.InverseExtent);
            begins = Vector256.Min(begins, k0);
            any |= Weights(panel, r, row8, column, k0, slope, group, last);
        }
        if (!any)
            return false;
        _row->Traces = traces;
        begins = Vector256.Min(Vector256.Max(begins, Vector256.Create((float)panel.First)), Vector256.Create(panel.First + panel.Count - 1f));
        Vector256<float> burial = begins * (float)_grid.Spacing + Vector256.Create((float)_grid.FirstBurial);
        NodeBurials.Map(panel, burial, out Vector256<float> middle, out Vector256<float> half);
        Vector256<float> scale = Vector256<float>.One / half;
        scale.Store(_row->MapScale);
        (-middle * scale).Store(_row->MapShift);
        Paths(panel, source.Leg, legs, traces, cosine, sine, middle, half, column, trace, slot, records);
        return true;
    }

    /// <summary>First level, weights and place of the sums of eight columns under one trace.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool Weights(LevelPanel panel, int r, int row8, int column, Vector256<float> k0, Vector256<float> slope, Vector256<int> group, Vector256<int> last)
    {
        int at = r * Lanes;
        k0.Store(_row->WeightStart + at);
        slope.Store(_row->WeightRise + at);
        Vector256<int> first = Vector256.Max(Vector256.ConvertToInt32Native(Vector256.Floor(k0)) + Vector256<int>.One, Vector256.Create(panel.First));
        Vector256<int> counts = Vector256.LessThan(k0, Vector256.Create(panel.First + panel.Count - 1f)).AsInt32() & Vector256.GreaterThan(Vector256.LoadUnsafe(ref _columns.Valid[column]), Vector256<int>.Zero);
        first = Vector256.ConditionalSelect(counts, first, last + Vector256<int>.One);
        (first - Vector256.Create(panel.First)).Store(_row->First + at);
        Vector256<float> full = Vector256.Max(Vector256.Ceiling(k0 + Vector256<float>.One / slope) - Vector256.Create((float)panel.First), Vector256<float>.Zero);
        Vector256<int> whole = Vector256.ConvertToInt32Native(Vector256.Min(full, Vector256.Create((float)panel.Padded)));
        int multiple = _path == VectorPath.Wide512 ? 16 : 8;
        ((whole + Vector256.Create(multiple - 1)) & Vector256.Create(-multiple)).Store(_row->Whole + at);
        Vector256.Create(panel.Count).Store(_row->End + at);
        Vector256<int> own = group * Columns + Vector256.Create(row8 * Lanes) + Vector256<int>.Indices;
        own.Store(_own + at);
        for (int lane = 0; lane < Lanes; lane++)
            _row->Sums[at + lane] = _sums.At + 3L * panel.Padded * _own[at + lane];
        return counts != Vector256<int>.Zero;
    }

    /// <summary>Path polynomials, records and counts of eight columns under a few traces.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    [SkipLocalsInit]
    private void Paths(
        LevelPanel panel, in Leg8 source, Leg8* legs, int traces, Vector256<float> cosine, Vector256<float> sine,
        Vector256<float> middle, Vector256<float> half, int column, int trace, int slot, TraceRecords records)
    {
        Vector256<float>* at = stackalloc Vector256<float>[Nodes * (Most + 1)];
        for (int j = 0; j < Nodes; j++)
        {
            Vector256<float> burial = NodeBurials.At(panel, middle, half, j), normal = burial * cosine, square = burial * burial * sine;
            at[j] = LegTime(source, burial, normal, square);
            for (int r = 0; r < traces; r++)
                at[(r + 1) * Nodes + j] = LegTime(legs[r], burial, normal, square);
        }
        for (int r = 0; r < traces; r++)
        {
            PathPolynomial.OfPath(at, at + (r + 1) * Nodes, _plan.Places.StartFraction[trace + r], _row->Coefficients + r * (Nodes * Lanes),
                out Vector256<int> origin, out Vector256<float> least, out Vector256<float> greatest);
            Place(panel, r, origin - Vector256.Create(_plan.Places.StartWhole[trace + r]), least, greatest, column, trace + r, slot + r, records);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector256<float> LegTime(in Leg8 leg, Vector256<float> burial, Vector256<float> normal, Vector256<float> square) =>
        _plan.LegTimes.At(leg.Height, normal, Vector256.Max(leg.OffsetSquared + 2f * burial * leg.Drift + square, Vector256<float>.Zero));

    /// <summary>Where a trace's records lie for each column, which levels its ends cut off, and the counts.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Place(
        LevelPanel panel, int r, Vector256<int> shift, Vector256<float> least, Vector256<float> greatest,
        int column, int trace, int slot, TraceRecords records)
    {
        int at = r * Lanes;
        byte* zero = (byte*)records.RecordsAt(slot);
        Vector256<float> low = Vector256.Create(-0.5f) - Vector256.ConvertToSingle(shift), high = low + Vector256.Create((float)records.Intervals);
        low.Store(_row->LeastPlace + at);
        high.Store(_row->GreatestPlace + at);
        uint safe = (Vector256.GreaterThan(least, low + Vector256<float>.One) & Vector256.LessThan(greatest, high - Vector256<float>.One)).ExtractMostSignificantBits();
        for (int i = at; i < at + Lanes; i++)
            _row->Records[i] = zero + 16L * shift[i - at];
        for (int i = at; i < at + Lanes; i++)
        {
            if (_row->First[i] >= panel.Count)
                continue;
            int lane = i - at;
            if ((safe >> lane & 1) == 0)
                new TraceEnds(_columns, _echoes, _settings, _grid, panel).Clip(_row, i, lane, _row->Coefficients + r * (Nodes * Lanes) + lane, column + lane, trace);
            CountLevels(panel, i);
        }
    }

    private void CountLevels(LevelPanel panel, int i)
    {
        if (_row->First[i] >= _row->End[i])
            return;
        int* counts = (int*)_counts.At + _own[i] * (panel.Padded + 1L);
        counts[_row->First[i]]++;
        counts[_row->End[i]]--;
    }

    private void Flush(int firstColumn, LevelPanel panel, LookSums[] groups, bool[] added)
    {
        for (int group = 0; group < groups.Length; group++)
            for (int row = 0; row < Rows8; row++)
                for (int lane = 0; lane < Lanes; lane++)
                {
                    long own = group * Columns + row * Lanes + lane;
                    float* sums = _sums.At + 3L * panel.Padded * own;
                    int* counts = (int*)_counts.At + own * (panel.Padded + 1L);
                    added[group] |= Flush(sums, counts, panel, groups[group], (ColumnOf(firstColumn, row) + lane) * _grid.CountZ + panel.First);
                }
    }

    private static bool Flush(float* sums, int* counts, LevelPanel panel, LookSums into, int start)
    {
        int traces = 0;
        bool any = false;
        for (int k = 0; k < panel.Count; k++)
        {
            traces += counts[k];
            if (traces == 0)
                continue;
            any = true;
            into.Real[start + k] += sums[k];
            into.Imaginary[start + k] += sums[panel.Padded + k];
            into.SumOfSquares[start + k] += sums[2 * panel.Padded + k];
            into.Traces[start + k] += traces;
        }
        return any;
    }
}
