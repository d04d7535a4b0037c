namespace Undersand.Tests.Imaging.Focusing;

/// <summary>How far two images are apart.</summary>
/// <param name="Relative">Root of the squared difference of the complex sums over that of the first.</param>
/// <param name="RelativeSquares">The same of the sums of squares.</param>
/// <param name="DifferentCounts">Voxels with different numbers of traces.</param>
/// <param name="VoxelTraces">Voxel·traces of the first.</param>
internal readonly record struct ImageDifference(double Relative, double RelativeSquares, int DifferentCounts, long VoxelTraces)
{
    public static ImageDifference Between(LookSums?[] first, LookSums?[] second)
    {
        double error = 0, energy = 0, squares = 0, allSquares = 0;
        int different = 0;
        long traces = 0;
        for (int g = 0; g < first.Length; g++)
        {
            Assert.Equal(first[g] == null, second[g] == null);
            if (first[g] is not { } p || second[g] is not { } f)
                continue;
            for (int i = 0; i < p.Real.Length; i++)
            {
                error += Square(p.Real[i] - f.Real[i]) + Square(p.Imaginary[i] - f.Imaginary[i]);
                energy += Square(p.Real[i]) + Square(p.Imaginary[i]);
                squares += Square(p.SumOfSquares[i] - f.SumOfSquares[i]);
                allSquares += Square(p.SumOfSquares[i]);
                different += p.Traces[i] != f.Traces[i] ? 1 : 0;
                traces += p.Traces[i];
            }
        }
        return new ImageDifference(Math.Sqrt(error / energy), Math.Sqrt(squares / allSquares), different, traces);
    }

    private static double Square(double x) => x * x;
}
