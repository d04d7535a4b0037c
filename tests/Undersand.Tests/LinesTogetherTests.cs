namespace Undersand.Tests;

public class LinesTogetherTests
{
    private static readonly VoxelGrid s_grid = new(0, 0, 0.05, 64, 64, 2, 0.025);

    [Fact]
    public void Looks_of_a_line_add_as_they_are_and_lines_by_energy()
    {
        // The two looks of the first line cancel in voxel 0 and agree in voxel 1; the second line sees voxel 1 only.
        var volume = new MemoryVolume(s_grid, [new(0, 0, 0, "a"), new(1, 0, 1, "a"), new(2, 1, 0, "b")]);
        volume.Write(new TileIndex(0, 0), 0, Sums((3, 0, 9, 1), (3, 0, 9, 1)));
        volume.Write(new TileIndex(0, 0), 1, Sums((-3, 0, 9, 1), (3, 0, 9, 1)));
        volume.Write(new TileIndex(0, 0), 2, Sums((0, 0, 0, 0), (0, 8, 32, 4)));
        LinesTogether together = LinesTogether.Of(volume, new TileIndex(0, 0))!;
        // Voxel 0: no energy left. Voxel 1: |6|²/2 and |8|²/4 over 6 traces; the traces' energy was 18 and 32.
        Assert.Equal(0, together.Amplitude[0]);
        Assert.Equal(0, together.Coherence[0]);
        Assert.Equal(MathF.Sqrt((36f / 2 + 64f / 4) / 6), together.Amplitude[1], 1e-6f);
        Assert.Equal(34f / 50, together.Coherence[1], 1e-6f);
        Assert.True(float.IsNaN(together.Amplitude[2]) && float.IsNaN(together.Coherence[2]));
    }

    [Fact]
    public void Nothing_is_made_of_a_tile_that_no_line_saw() =>
        Assert.Null(LinesTogether.Of(new MemoryVolume(s_grid, [new(0, 0, 0, "a")]), new TileIndex(0, 0)));

    private static LookSums Sums(params (float Real, float Imaginary, float Squares, int Traces)[] voxels)
    {
        var sums = new LookSums(2);
        for (int i = 0; i < voxels.Length; i++)
            (sums.Real[i], sums.Imaginary[i], sums.SumOfSquares[i], sums.Traces[i]) = voxels[i];
        return sums;
    }
}
