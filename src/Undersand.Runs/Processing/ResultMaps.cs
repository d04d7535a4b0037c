using Undersand.Detection;
using Undersand.Imaging;
using Undersand.Storage.Zarr;

namespace Undersand.Runs.Processing;

/// <summary>Learns the null, writes every tile's probabilities, and gathers the maps on the way.</summary>
internal sealed class ResultMaps
{
    private readonly Detector _detector;
    private readonly ZarrVolume _volume;
    private readonly TileIndex[] _tiles;
    private readonly double _reference;
    private readonly Parallelism _threads;
    private readonly IProgressSink _progress;
    private readonly CancellationToken _cancellation;

    public ResultMaps(SurveyImager imager, Detector detector, ZarrVolume volume, double reference, Parallelism threads, IProgressSink progress, CancellationToken cancellation)
    {
        (_detector, _volume, _reference, _threads, _progress, _cancellation) = (detector, volume, reference, threads, progress, cancellation);
        var grid = imager.Grid;
        _tiles = grid.Tiles().Where(imager.Sees).ToArray();
        GreatestProbability = Empty(grid, 1);
        BurialOfGreatest = Empty(grid, 1);
        CouldHaveSeen = Empty(grid, Detector.SeenStep);
    }

    public Raster GreatestProbability { get; }

    public Raster BurialOfGreatest { get; }

    /// <summary>On a grid eight voxels wide: it changes slowly.</summary>
    public Raster CouldHaveSeen { get; }

    public void Learn()
    {
        _progress.Begin("Learning what nothing looks like", 100, "%");
        _detector.LearnNull(new FractionProgress(_progress), _cancellation);
    }

    public void Make()
    {
        _progress.Begin("Weighing the evidence", _tiles.Length, "tiles");
        _threads.For(_tiles.Length, i => { MakeTile(_tiles[i]); _progress.Advance(); }, _cancellation);
    }

    private void MakeTile(TileIndex tile)
    {
        float[] probability = _detector.ProbabilityOf(tile);
        _volume.WriteProbability(tile, probability);
        var grid = _volume.Grid;
        int levels = grid.CountZ;
        for (int column = 0; column < VoxelGrid.TileSize * VoxelGrid.TileSize; column++)
        {
            int x = tile.X * VoxelGrid.TileSize + column % VoxelGrid.TileSize, y = tile.Y * VoxelGrid.TileSize + column / VoxelGrid.TileSize;
            if (x >= grid.CountX || y >= grid.CountY)
                continue;
            int best = -1;
            for (int z = 0; z < levels; z++)
                if (!float.IsNaN(probability[column * levels + z]) && (best < 0 || probability[column * levels + z] > probability[column * levels + best]))
                    best = z;
            if (best < 0)
                continue;
            GreatestProbability.Values[y * grid.CountX + x] = probability[column * levels + best];
            BurialOfGreatest.Values[y * grid.CountX + x] = (float)grid.BurialAt(best);
        }
        float[] seen = _detector.DeepestSeen(tile, _reference);
        int side = VoxelGrid.TileSize / Detector.SeenStep;
        for (int i = 0; i < seen.Length; i++)
        {
            int x = tile.X * side + i % side, y = tile.Y * side + i / side;
            if (x < CouldHaveSeen.CountX && y < CouldHaveSeen.CountY)
                CouldHaveSeen.Values[y * CouldHaveSeen.CountX + x] = seen[i];
        }
    }

    private static Raster Empty(VoxelGrid grid, int step)
    {
        int nx = (grid.CountX + step - 1) / step, ny = (grid.CountY + step - 1) / step;
        var values = new float[nx * ny];
        Array.Fill(values, float.NaN);
        return new Raster(grid.EastingAt(step == 1 ? 0 : step / 2), grid.NorthingAt(step == 1 ? 0 : step / 2), step * grid.Spacing, nx, ny, values);
    }
}
