namespace Undersand.Detection;

/// <summary>A line's energy in blocks of columns, level by level: what the background is worked out from, small enough to keep for the neighbours.</summary>
/// <remarks>Mean and greatest energy of the voxels that were looked at; −1 where none was.</remarks>
internal sealed class BlockSummary
{
    private BlockSummary(int blocks, int levels)
    {
        Mean = new float[blocks * blocks * levels];
        Greatest = new float[blocks * blocks * levels];
    }

    public float[] Mean { get; }

    public float[] Greatest { get; }

    /// <param name="tile">The line's tile.</param>
    /// <param name="levels">Levels of burial.</param>
    /// <param name="edge">Columns along a block's edge; divides the tile.</param>
    public static BlockSummary Of(LineTile tile, int levels, int edge)
    {
        int blocks = VoxelGrid.TileSize / edge;
        var summary = new BlockSummary(blocks, levels);
        var sum = new double[levels];
        var count = new int[levels];
        for (int by = 0; by < blocks; by++)
            for (int bx = 0; bx < blocks; bx++)
                summary.Fill(tile, bx, by, blocks, levels, edge, sum, count);
        return summary;
    }

    private void Fill(LineTile tile, int bx, int by, int blocks, int levels, int edge, double[] sum, int[] count)
    {
        int target = (by * blocks + bx) * levels;
        Array.Clear(sum);
        Array.Clear(count);
        for (int y = by * edge; y < (by + 1) * edge; y++)
            for (int x = bx * edge; x < (bx + 1) * edge; x++)
            {
                int column = (y * VoxelGrid.TileSize + x) * levels;
                for (int z = 0; z < levels; z++)
                {
                    float energy = tile.Energy[column + z];
                    if (!(energy >= 0))
                        continue;
                    sum[z] += energy;
                    count[z]++;
                    Greatest[target + z] = Math.Max(Greatest[target + z], energy);
                }
            }
        for (int z = 0; z < levels; z++)
        {
            Mean[target + z] = count[z] > 0 ? (float)(sum[z] / count[z]) : -1;
            if (count[z] == 0)
                Greatest[target + z] = -1;
        }
    }
}
