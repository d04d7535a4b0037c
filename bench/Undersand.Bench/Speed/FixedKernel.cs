using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Undersand.Imaging.Focusing;

namespace Undersand.Bench.Speed;

/// <summary>The engine's records, polynomials and kernels driven through the fixed problem with its own aperture: midpoints within 3 m, no taper, level seabed.</summary>
internal sealed unsafe class FixedKernel : IDisposable
{
    private const int Edge = 16, Columns = Edge * Edge, Rows = Columns / Lanes, Lanes = RowJob.Lanes, Nodes = PathPolynomial.Nodes, Levels = FixedProblem.Levels;

    private readonly FixedProblem _problem;
    private readonly EchoSet _echoes;
    private readonly TraceRecords _records;
    private readonly LevelPanel _panel;
    private readonly LegTimes _legs = new(FixedProblem.C1, FixedProblem.C2, 1 / FixedProblem.Rate, false);
    private readonly VectorPath _path;
    private readonly ThreadLocal<Room> _rooms = new(() => new Room(), true);

    public FixedKernel(FixedProblem problem, EchoSet echoes, TraceRecords records, VectorPath path)
    {
        (_problem, _echoes, _records, _path) = (problem, echoes, records, path);
        var grid = new VoxelGrid(FixedProblem.First, FixedProblem.First, FixedProblem.Spacing, FixedProblem.CountX, FixedProblem.CountY, Levels, FixedProblem.FirstBurial);
        _panel = new LevelPanel(grid, 0, Levels, FixedProblem.Altitude);
    }

    public void Dispose()
    {
        foreach (Room room in _rooms.Values)
            room.Dispose();
        _rooms.Dispose();
    }

    /// <summary>The whole job, the re-packing of the traces included.</summary>
    public void Run(FixedImage image, ParallelOptions options)
    {
        Parallel.For(0, FixedProblem.Pings, options, ping =>
        {
            for (int t = ping * FixedProblem.Receivers; t < (ping + 1) * FixedProblem.Receivers; t++)
                _records.Pack(t, t);
        });
        Parallel.For(0, FixedProblem.CountX / Edge * (FixedProblem.CountY / Edge), options, block => Block(block, _rooms.Value!, image));
    }

    private void Block(int block, Room room, FixedImage image)
    {
        int bx = block % (FixedProblem.CountX / Edge) * Edge, by = block / (FixedProblem.CountX / Edge) * Edge;
        room.Begin(_panel, bx, by);
        float cx = FixedProblem.ColumnAt(bx) + 0.5f * (Edge - 1) * 0.05f, cy = FixedProblem.ColumnAt(by) + 0.5f * (Edge - 1) * 0.05f;
        for (int p = 0; p < FixedProblem.Pings; p++)
        {
            float px = _problem.SourceX[p] - cx, py = _problem.SourceY[p] - cy;
            if (px * px + py * py > 4.3f * 4.3f)
                continue;
            Unsafe.InitBlock(room.Have, 0, Rows);
            for (int r = 0; r < FixedProblem.Receivers; r += RowJob.MostTraces)
                for (int row = 0; row < Rows; row++)
                    if (Prepare(room, row, p, p * FixedProblem.Receivers + r))
                        Add(room.Job);
        }
        room.Flush(image, bx, by);
    }

    private void Add(RowJob* job)
    {
        if (_path == VectorPath.Wide512)
            Kernel512.Add(job);
        else if (_path == VectorPath.Wide256)
            Kernel256.Add(job);
        else
            KernelScalar.Add(job);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    [SkipLocalsInit]
    private bool Prepare(Room room, int row, int ping, int trace)
    {
        RowJob* job = room.Job;
        Vector256<float> x = Vector256.Load(room.X + row * Lanes), y = Vector256.Load(room.Y + row * Lanes);
        uint* inside = stackalloc uint[RowJob.MostTraces];
        uint any = 0;
        for (int r = 0; r < RowJob.MostTraces; r++)
        {
            Vector256<float> mx = Vector256.Create(0.5f * (_problem.SourceX[ping] + _problem.ReceiverX[trace + r])) - x;
            Vector256<float> my = Vector256.Create(0.5f * (_problem.SourceY[ping] + _problem.ReceiverY[trace + r])) - y;
            inside[r] = Vector256.LessThanOrEqual(mx * mx + my * my, Vector256.Create(FixedProblem.ApertureSquared)).ExtractMostSignificantBits();
            any |= inside[r];
        }
        if (any == 0)
            return false;
        Vector256<float>* source = room.Source + row * Nodes, leg = stackalloc Vector256<float>[Nodes];
        if (room.Have[row] == 0)
        {
            room.Have[row] = 1;
            Times(room, x - Vector256.Create(_problem.SourceX[ping]), y - Vector256.Create(_problem.SourceY[ping]), source);
        }
        for (int r = 0; r < RowJob.MostTraces; r++)
        {
            Times(room, x - Vector256.Create(_problem.ReceiverX[trace + r]), y - Vector256.Create(_problem.ReceiverY[trace + r]), leg);
            PathPolynomial.OfPath(source, leg, 0.5f, job->Coefficients + r * (Nodes * Lanes), out Vector256<int> origin, out Vector256<float> least, out Vector256<float> greatest);
            Place(room, row, r, inside[r], (byte*)_records.RecordsAt(trace + r), origin - Vector256.Create((int)(FixedProblem.Start * FixedProblem.Rate)), least, greatest);
        }
        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Times(Room room, Vector256<float> dx, Vector256<float> dy, Vector256<float>* at)
    {
        Vector256<float> square = dx * dx + dy * dy, height = Vector256.Create((float)FixedProblem.Altitude);
        for (int j = 0; j < Nodes; j++)
            at[j] = _legs.At(height, room.NodeBurials[j], square);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Place(Room room, int row, int r, uint inside, byte* records, Vector256<int> shift, Vector256<float> least, Vector256<float> greatest)
    {
        RowJob* job = room.Job;
        Vector256<float> low = Vector256.Create(-0.5f) - Vector256.ConvertToSingle(shift), high = low + Vector256.Create((float)_records.Intervals);
        low.Store(job->LeastPlace + r * Lanes);
        high.Store(job->GreatestPlace + r * Lanes);
        if (Vector256.LessThanAny(least, low) || Vector256.GreaterThanAny(greatest, high))
            throw new InvalidOperationException("the fixed problem's traces hold all its voxels");
        for (int lane = 0; lane < Lanes; lane++)
        {
            int i = r * Lanes + lane;
            bool counts = (inside >> lane & 1) != 0;
            job->First[i] = counts ? 0 : Levels;
            job->Records[i] = records + 16L * shift[lane];
            job->Sums[i] = room.Sums + 3L * Levels * (row * Lanes + lane);
            room.Counts[row * Lanes + lane] += counts ? 1 : 0;
        }
    }

    /// <summary>One thread's own memory.</summary>
    private sealed class Room : IDisposable
    {
        private readonly AlignedFloats _sums = new(3L * Levels * Columns), _job = new(JobRoom.Floats(Levels)), _source = new(Rows * Nodes * Lanes + 2 * Columns + Nodes * Lanes + Rows);

        public Room()
        {
            Sums = _sums.At;
            Job = JobRoom.Lay(_job.At, Levels);
            Source = (Vector256<float>*)_source.At;
            X = _source.At + Rows * Nodes * Lanes;
            Y = X + Columns;
            NodeBurials = (Vector256<float>*)(Y + Columns);
            Have = (byte*)(NodeBurials + Nodes);
        }

        public float* Sums { get; }

        public RowJob* Job { get; }

        public Vector256<float>* Source { get; }

        public Vector256<float>* NodeBurials { get; }

        public float* X { get; }

        public float* Y { get; }

        public byte* Have { get; }

        public int[] Counts { get; } = new int[Columns];

        public void Begin(LevelPanel panel, int bx, int by)
        {
            _sums.Clear();
            Array.Clear(Counts);
            JobRoom.SetPanel(Job, panel, 2 * Math.PI * FixedProblem.Carrier / FixedProblem.Rate);
            Job->Traces = RowJob.MostTraces;
            Undersand.Imaging.Focusing.NodeBurials.Map(panel, Vector256.Create((float)FixedProblem.FirstBurial), out Vector256<float> middle, out Vector256<float> half);
            (Vector256<float>.One / half).Store(Job->MapScale);
            (-middle / half).Store(Job->MapShift);
            for (int j = 0; j < Nodes; j++)
                NodeBurials[j] = Undersand.Imaging.Focusing.NodeBurials.At(panel, middle, half, j);
            for (int i = 0; i < RowJob.MostTraces * Lanes; i++)
                (Job->End[i], Job->Whole[i], Job->WeightRise[i]) = (Levels, 0, 1);
            for (int c = 0; c < Columns; c++)
                (X[c], Y[c]) = (FixedProblem.ColumnAt(bx + c % Edge), FixedProblem.ColumnAt(by + c / Edge));
        }

        public void Flush(FixedImage image, int bx, int by)
        {
            for (int c = 0; c < Columns; c++)
            {
                int at = ((by + c / Edge) * FixedProblem.CountX + bx + c % Edge) * Levels;
                float* sums = Sums + 3L * Levels * c;
                new ReadOnlySpan<float>(sums, Levels).CopyTo(image.Real.AsSpan(at));
                new ReadOnlySpan<float>(sums + Levels, Levels).CopyTo(image.Imaginary.AsSpan(at));
                new ReadOnlySpan<float>(sums + 2 * Levels, Levels).CopyTo(image.Squares.AsSpan(at));
                image.Counts.AsSpan(at, Levels).Fill(Counts[c]);
            }
        }

        public void Dispose()
        {
            _sums.Dispose();
            _job.Dispose();
            _source.Dispose();
        }
    }
}
